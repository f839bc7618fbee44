import { aliasWords } from "../questions/alias-words.ts";
import { recordedAs } from "../questions/audit-findings.ts";
import type { AuditAnswer, FieldCompleteness, Finding } from "../questions/audit-types.ts";
import { findingWords, quoted } from "../questions/finding-words.ts";
import { inFull, wholePercent } from "../questions/wording.ts";
import { accountTable } from "./account-table.ts";
import { correctionsTable } from "./corrections-table.ts";
import type { Cell } from "./csv-file.ts";
import { printable } from "./printable.ts";
import { textTable } from "./text-table.ts";

/** Columns of the CSV file of all findings. */
export const FINDING_HEADERS = [
  "file",
  "sheet",
  "row",
  "field",
  "column",
  "value",
  "recorded_as",
  "rule",
  "severity",
  "message",
  "trace",
];

/** One finding as a row of that file. */
export function findingRow(finding: Finding): Cell[] {
  const { path, sheet, row, field, column, value, after, rule, severity, message, trace } = finding;
  return [path, sheet, row, field, column, value, after, rule, severity, message, trace];
}

type Colours = { bold: (text: string) => string; yellow: (text: string) => string };

/** The state of the data for a terminal: the answer, what each gap costs, the rows, the rules with examples, completeness by year. */
export function auditText(answer: AuditAnswer, colours: Colours): string {
  const { gaps, files, pipelines, rules, warnings, findings } = answer;
  const titled = (title: string, text: string) => (text === "" ? [] : [`${colours.bold(title)}\n${text}`]);
  return [
    colours.bold(printable(answer.answer)),
    ...(answer.noLives === null ? [] : [printable(answer.noLives)]),
    ...titled("What is missing, and what it costs", gaps.map(({ sentence }) => `- ${printable(sentence)}`).join("\n")),
    ...titled("Rows by file", files.length === 0 ? "" : accountTable(files, ({ name }) => name, "file")),
    ...titled(
      "Rows by pipeline",
      pipelines.length < 2 ? "" : accountTable(pipelines, ({ pipeline }) => pipeline, "pipeline"),
    ),
    ...titled("What the checks found", rules.length === 0 ? "" : ruleTable(answer)),
    ...titled("Examples", exampleLines(findings)),
    ...titled("Corrections and aliases", correctionLines(answer)),
    ...completenessTables(answer).flatMap(([title, text]) => titled(title, text)),
    ...(warnings.length === 0
      ? []
      : [warnings.map((warning) => `${colours.yellow("Careful:")} ${printable(warning)}`).join("\n")]),
    ...(answer.asOf === null
      ? []
      : [`Events up to ${answer.asOf}. How a row, card, unit or life came about: framelife trace ID`]),
  ].join("\n\n");
}

const DONE = { quarantine: "row set aside", refuse: "value left out", warn: "kept, doubtful", fix: "changed" } as const;

function ruleTable({ rules }: AuditAnswer): string {
  return textTable(
    ["rule", "then", "times", "files", "what it finds"],
    rules.map(({ rule, title, severity, count, files }) => [rule, DONE[severity], inFull(count), String(files), title]),
    [false, false, true, true, false],
  );
}

function exampleLines(findings: Finding[]): string {
  return findings
    .map((finding, index) => {
      const { rule, severity, trace } = finding;
      const before = findings[index - 1];
      const title = before?.rule === rule && before.severity === severity ? "" : `${rule}, ${DONE[severity]}\n`;
      return `${title}  ${printable(trace)}  ${printable(exampleWords(finding))}`;
    })
    .join("\n");
}

function exampleWords(finding: Finding): string {
  const { field, row, column, severity, after, message } = finding;
  if (row === null) return `${column === null ? "" : `${column}: `}${message}`;
  if (field === "row") return message;
  const found = findingWords(finding);
  if (severity !== "fix") return `${found}: ${message}`;
  if (after === finding.value) return `${found}: taken as it says`;
  // Who says so, of a correction or an alias.
  const told = recordedAs(after);
  const because = message.startsWith(told) ? message.slice(told.length) : "";
  return `${found} -> ${quoted(after)}${because}`;
}

function correctionLines({ corrections }: AuditAnswer): string {
  return [...correctionsTable(corrections), ...handLines(corrections).map(printable)].join("\n");
}

function handLines({ stale, unmatched, aliases, proposals }: AuditAnswer["corrections"]): string[] {
  return [
    ...[...stale, ...unmatched].map((text) => `- ${text}`),
    ...(aliases === 0 ? [] : [aliasWords(aliases)]),
    ...proposals.map(
      ({ fleet, unit, meant, because, trace }) =>
        `- is ${fleet}/${unit} the unit ${fleet}/${meant}? ${because}; say yes or no in the aliases file  ${trace}`,
    ),
  ];
}

/** For each kind of record and fleet what is always there, what never, and a table of the rest: fields down, years across. */
function completenessTables({ completeness }: AuditAnswer): [string, string][] {
  const keys = [...new Set(completeness.map(({ record, fleet }) => JSON.stringify([record, fleet])))];
  return keys.map((key) => {
    const own = completeness.filter(({ record, fleet }) => JSON.stringify([record, fleet]) === key);
    const [first] = own;
    const title = `Fields on record, ${first?.record}${first?.fleet ? `, ${first.fleet}` : ""}`;
    const listed = (words: string, wanted: (share: number) => boolean) => {
      const fields = own.filter(({ share }) => wanted(share)).map(({ field }) => field);
      return fields.length === 0 ? [] : [`${words}: ${fields.join(", ")}`];
    };
    const some = own.filter(({ share }) => share > 0 && share < 1);
    const lines = [...listed("always", (share) => share === 1), ...listed("never", (share) => share === 0)];
    return [title, [...lines, ...(some.length === 0 ? [] : [completenessTable(some)])].join("\n")];
  });
}

function completenessTable(fields: FieldCompleteness[]): string {
  const years = [...new Set(fields.flatMap(({ months }) => months.map(({ month }) => yearOf(month))))].toSorted();
  const shown = years.length > 1 ? years : [];
  const headers = ["field", "records", "all", ...shown];
  return textTable(
    headers,
    fields.map((field) => [
      field.field,
      inFull(field.records),
      wholePercent(field.share),
      ...shown.map((year) => shareIn(field, year)),
    ]),
    headers.map((_, column) => column > 0),
  );
}

function shareIn({ months }: FieldCompleteness, year: string): string {
  const own = months.filter(({ month }) => yearOf(month) === year);
  const records = own.reduce((sum, month) => sum + month.records, 0);
  const have = own.reduce((sum, month) => sum + month.have, 0);
  return records === 0 ? "–" : wholePercent(have / records);
}

function yearOf(month: string | null): string {
  return month?.slice(0, 4) ?? "undated";
}
