import { aboutWords, quoted } from "../questions/finding-words.ts";
import { PART_WORDS } from "../questions/trace-card-words.ts";
import type { CardVersion, SourceRow, StoryLine, TraceAnswer, TracedRecord } from "../questions/trace-types.ts";
import { printable } from "./printable.ts";
import { textTable } from "./text-table.ts";

type Colours = { bold: (text: string) => string; yellow: (text: string) => string };

/** A trace for a terminal: the answer, the story, the records, the versions, and each source row with what became of it. */
export function traceText(answer: TraceAnswer, colours: Colours): string {
  const { story, records, versions, rows, warnings } = answer;
  const titled = (title: string, text: string) => (text === "" ? [] : [`${colours.bold(printable(title))}\n${text}`]);
  return [
    colours.bold(printable(answer.answer)),
    ...titled(
      answer.kind === "unit" || answer.kind === "position" ? "Builds and their lives" : "How it came about",
      storyTable(story),
    ),
    ...titled("Records in order of time", recordTable(records)),
    ...titled("Versions", versionText(versions)),
    ...rows.flatMap((row) => titled(rowTitle(row), rowText(row, firstOf(rows, row)))),
    ...(warnings.length === 0
      ? []
      : [warnings.map((warning) => `${colours.yellow("Careful:")} ${printable(warning)}`).join("\n")]),
    ...(answer.asOf === null ? [] : [`Events up to ${answer.asOf}.`]),
  ].join("\n\n");
}

function storyTable(story: StoryLine[]): string {
  if (story.length === 0) return "";
  const headers = ["", "value", "whence", "trace"];
  return textTable(
    headers,
    story.map(({ about, value, words, trace }) => [about, valueText(value), words, trace.join(" ")]),
    headers.map(() => false),
  );
}

function recordTable(records: TracedRecord[]): string {
  if (records.length === 0) return "";
  const headers = ["on", "record", "says", "standing", "trace"];
  return textTable(
    headers,
    records.map(({ on, kind, says, standing, trace }) => [on ?? "no date", kind, says, standing, trace]),
    headers.map(() => false),
  );
}

/** Only where there is more than one. */
function versionText(versions: CardVersion[]): string {
  if (versions.length < 2) return "";
  const parts = new Set(versions.map(({ part }) => part)).size;
  return versions
    .flatMap(({ part, rows, standing, differs }) => [
      printable(`${parts > 1 ? `${PART_WORDS[part]}, ` : ""}${standing}: ${shortRows(rows)}`),
      ...differs.map(({ field, before, after }) =>
        printable(
          `  ${field}: ${before === null ? "nothing" : valueText(before)} -> ${after === null ? "nothing" : valueText(after)}`,
        ),
      ),
    ])
    .join("\n");
}

/** Rows of one file are named by their numbers after its first: "cards.csv:2, 3 rounds.csv:7". */
function shortRows(rows: string[]): string {
  const byFile = new Map<string, string[]>();
  for (const row of rows) {
    const [, file = row, number = ""] = /^(.*):(\d+)$/s.exec(row) ?? [];
    byFile.set(file, [...(byFile.get(file) ?? []), number]);
  }
  return [...byFile].map(([file, numbers]) => `${file}:${numbers.join(", ")}`).join(" ");
}

function rowTitle({ trace, pipeline, record, ended }: SourceRow): string {
  return `${trace} (pipeline ${pipeline}, ${record}): ${ended.words}`;
}

/** The first row shown of the same file: of others only what differs from it is. */
function firstOf(rows: SourceRow[], { path, sheet, pipeline }: SourceRow): SourceRow | undefined {
  return rows.find((row) => row.path === path && row.sheet === sheet && row.pipeline === pipeline);
}

function rowText(row: SourceRow, first: SourceRow | undefined): string {
  const { cells, missing, changes, findings } = row;
  const before = first === undefined || first.trace === row.trace ? null : first;
  const found = findings.map((finding) => {
    const about = finding.field === "row" ? "" : `${aboutWords(finding)}: `;
    return `  found ${about}${finding.rule} (${finding.severity}), ${finding.message}`;
  });
  const changed = changes.map(
    ({ rule, because, after, ...change }) =>
      `  changed ${aboutWords({ ...change, value: change.before })} -> ${quoted(after)} by ${rule}${because === null ? "" : `: ${because}`}`,
  );
  return [
    ...(missing === null ? [] : [printable(`  as it stood: ${missing}`)]),
    ...(cells === null ? [] : told("  as it stood", row, before, cellTexts)),
    ...(row.recorded.length === 0 ? [] : told("  recorded", row, before, recordedTexts)),
    ...[...changed, ...found].map(printable),
  ].join("\n");
}

type Texts = (row: SourceRow) => Map<string, string>;

const cellTexts: Texts = ({ cells }) =>
  new Map((cells ?? []).map(({ column, value }) => [column, `${column} = ${value}`]));

const recordedTexts: Texts = ({ recorded }) => new Map(recorded.map((told) => [told.field, recordedText(told)]));

const SLOT_FIELD = /^[a-z_]+\.[a-z_]+$/;

/** All of a row, or, where it shares most with the row `before`, what differs from that. */
function told(title: string, row: SourceRow, before: SourceRow | null, textsOf: Texts): string[] {
  const own = textsOf(row);
  const other = before === null ? new Map<string, string>() : textsOf(before);
  const differs = [...own].flatMap(([name, text]) => (other.get(name) === text ? [] : [text]));
  if (before === null || differs.length > own.size / 2) return [title, ...pairs([...own.values()])];
  // The slot of another row is not wanting here.
  const lacking = [...other.keys()].flatMap((name) =>
    own.has(name) || SLOT_FIELD.test(name) ? [] : [`${name} blank`],
  );
  if (differs.length + lacking.length === 0) return [`${title}, as ${before.trace}`];
  return [`${title}, as ${before.trace} but for`, ...pairs([...differs, ...lacking])];
}

/** Ours, and beside it the owner's column, with the cell where that says it in other words. */
function recordedText({ field, value, column, cell }: SourceRow["recorded"][number]): string {
  const ours = valueText(value);
  if (column === null) return `${field} = ${ours}`;
  return `${field} = ${ours} (${column}${cell === null || cell === ours ? "" : ` ${quoted(cell)}`})`;
}

const WIDTH = 110;

/** Cells one after another, as many to a line as are easily read. */
function pairs(texts: string[]): string[] {
  const lines: string[] = [];
  for (const text of texts) {
    const cell = printable(text);
    const last = lines.at(-1);
    if (last !== undefined && last.length + cell.length < WIDTH) lines[lines.length - 1] = `${last} | ${cell}`;
    else lines.push(`    ${cell}`);
  }
  return lines;
}

function valueText(value: string | number | boolean | null): string {
  if (value === null) return "-";
  return typeof value === "number"
    ? value.toLocaleString("en-US", { maximumSignificantDigits: 8, useGrouping: false })
    : String(value);
}
