import { type Draft, type DraftField, type DraftMeasure, fieldName, type SourceEntry } from "./draft.ts";
import { type DraftWord, wordQuestionId } from "./guess-words.ts";
import type { Question } from "./opinion.ts";
import { columnName, counted, plainLine, shown } from "./shown.ts";
import { yamlList, yamlScalar } from "./yaml-text.ts";

/** A draft as the text of a pipeline: each guess under its evidence, what is open as a `# confirm` line. */
export function writeDraft(draft: Draft): string {
  const own = draft.fields.filter(({ slot }) => slot === undefined);
  const slots = [...new Set(draft.fields.flatMap(({ slot }) => slot ?? []))];
  return [
    ...headLines(draft),
    ...readingLines(draft),
    ...blankLines(draft),
    ...notDataLines(draft),
    "",
    "# Our field: where it stands in the export, and how its text is read. Dates in strptime letters; %b is a month by its name.",
    "fields:",
    ...own.flatMap((field) => fieldLines(field, 2)),
    ...(draft.measures.length > 0
      ? [
          "",
          "# The owner's words for measured values, and the field that each fills; ~ is of no use here.",
          "measures:",
          ...draft.measures.flatMap(measureLines),
        ]
      : []),
    ...(slots.length > 0 ? ["", "# The columns of each slot.", "slots:"] : []),
    ...slots.flatMap((slot) => [
      `  ${slot}:`,
      ...draft.fields.filter((field) => field.slot === slot).flatMap((field) => fieldLines(field, 4)),
    ]),
    ...unmatchedLines(draft),
    "",
  ].join("\n");
}

function comment(word: "evidence" | "confirm", text: string, indent = 0): string {
  return `${" ".repeat(indent)}# ${word}: ${plainLine(text)}`;
}

function confirms(questions: Question[], indent = 0): string[] {
  return questions.map(({ text, options }) =>
    comment(
      "confirm",
      options.length > 1 ? `${text} (${options.slice(0, 8).join(" | ")}${options.length > 8 ? " | ..." : ""})` : text,
      indent,
    ),
  );
}

function headLines({ title, record, layout, evidence, rows, sampled, questions, files }: Draft): string[] {
  const looked =
    sampled === undefined
      ? rows === 1
        ? "the only row"
        : `all ${rows} rows`
      : `a random sample of ${sampled} of ${rows} rows`;
  return [
    `# ${title}, drafted from ${files.length === 1 ? "an export" : `${files.length} exports`} by what stands in ${looked}. A guess has its evidence above it; look at each`,
    '# "confirm" line, correct what is wrong, and take the line away.',
    ...evidence.map((text) => comment("evidence", text)),
    ...confirms(questions),
    `title: ${yamlScalar(title)}`,
    `record: ${record}`,
    ...(layout === "wide" ? [] : [`layout: ${layout}`]),
  ];
}

function readingLines({ files, sheets, reading, marks }: Draft): string[] {
  const { format, encoding, delimiter, header, records } = reading;
  const isText = format === "csv" || format === "tsv";
  const plainDelimiter = format === "tsv" ? "\t" : ",";
  const lines =
    files.length === 1
      ? [`files: ${yamlScalar(files[0]!)}`]
      : ["files:", ...files.map((file) => `  - ${yamlScalar(file)}`)];
  return [
    ...lines,
    `format: ${format}`,
    ...(sheets === undefined ? [] : [`sheet: ${yamlList(sheets)}`]),
    ...(encoding === "utf-8" ? [] : [`encoding: ${encoding}`]),
    ...(isText && delimiter !== plainDelimiter ? [`delimiter: ${yamlScalar(delimiter)}`] : []),
    ...(marks.decimal_mark === "." ? [] : [`decimal_mark: ${yamlScalar(marks.decimal_mark)}`]),
    ...(marks.thousands_mark === undefined ? [] : [`thousands_mark: ${yamlScalar(marks.thousands_mark)}`]),
    ...headerLines(header),
    ...(records === undefined ? [] : [`records: ${yamlScalar(records)}`]),
  ];
}

/** A header in the first row is found by itself. */
function headerLines(header: Draft["reading"]["header"]): string[] {
  if (header === undefined) return [];
  if (header === "none") return ["header: none"];
  return header.length === 1 ? (header[0] === 1 ? [] : [`header: ${header[0]}`]) : [`header: ${yamlList(header)}`];
}

function blankLines({ blank }: Draft): string[] {
  if (blank.length === 0) return [];
  return [
    ...blank.map(({ text, count }) =>
      comment("evidence", `${shown(text)} stands for nothing in ${counted(count, "cell")} of numbers or days`),
    ),
    `blank: ${yamlList(blank.map(({ text }) => text))}`,
  ];
}

function notDataLines({ notData, firstColumn }: Draft): string[] {
  if (notData.length === 0) return [];
  return [
    ...notData.map(({ text, count }) =>
      comment(
        "evidence",
        `${count} ${count === 1 ? "row has" : "rows have"} next to nothing but ${shown(text)}: no data`,
      ),
    ),
    "not_data:",
    ...notData.map(
      ({ text }) => `  - { column: ${yamlScalar(firstColumn)}, matches: ${yamlScalar(escapedPattern(text))} }`,
    ),
  ];
}

function escapedPattern(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&").replace(/\s+/g, "\\s+");
}

function fieldLines(field: DraftField, indent: number): string[] {
  const open = field.questions.filter(({ id }) => !id.includes(".words."));
  return [comment("evidence", field.evidence, indent), ...confirms(open, indent), ...sourceLines(field, indent)];
}

const LONGEST_LINE = 140;

function sourceLines(field: DraftField, indent: number): string[] {
  const { key, entries } = field;
  const words = field.words?.length === 0 ? undefined : field.words;
  const blank = " ".repeat(indent);
  const listed = words?.filter(({ target }) => target !== undefined) ?? [];
  const isPlain =
    words === undefined || (words.length <= 6 && words.every(({ sure, target }) => sure && target !== undefined));
  if (isPlain) {
    const inline: string[] = entries.map(entryText);
    if (words !== undefined) inline.push(`words: { ${listed.map(wordText).join(", ")} }`);
    const line = `${blank}${key}: { ${inline.join(", ")} }`;
    if (words === undefined || line.length <= LONGEST_LINE) return [line];
  }
  return [
    `${blank}${key}:`,
    ...entries.map((entry) => `${blank}  ${entryText(entry)}`),
    `${blank}  words:${listed.length === 0 ? " {}" : ""}`,
    ...words.flatMap((word) => wordLines(word, field, indent + 4)),
  ];
}

function entryText([key, value]: SourceEntry): string {
  return `${key}: ${Array.isArray(value) ? yamlList(value) : yamlScalar(value)}`;
}

function wordText({ text, target }: DraftWord): string {
  return `${yamlScalar(text)}: ${target === null || target === undefined ? "~" : yamlScalar(target)}`;
}

function wordLines(word: DraftWord, field: DraftField, indent: number): string[] {
  const blank = " ".repeat(indent);
  const own = field.questions.filter(({ id }) => id === wordQuestionId(fieldName(field), word.text));
  const line = word.target === undefined ? [] : [`${blank}${wordText(word)}  # ${word.count}`];
  return [...(word.sure ? [] : confirms(own, indent)), ...line];
}

function measureLines({ text, field, entries, evidence, questions }: DraftMeasure): string[] {
  const line =
    field === undefined
      ? `  ${yamlScalar(text)}: ~`
      : `  ${yamlScalar(text)}: { ${entries.map(entryText).join(", ")} }`;
  return [...(evidence === "" ? [] : [comment("evidence", evidence, 2)]), ...confirms(questions, 2), line];
}

function unmatchedLines({ unmatched }: Draft): string[] {
  if (unmatched.length === 0) return [];
  const lines = unmatched.map((column) => {
    const examples = column.words.slice(0, 3).map(({ text }) => shown(text));
    const holds =
      column.filled === 0 ? "empty" : `${column.filled} filled, ${column.distinct} different: ${examples.join(", ")}`;
    return `#   ${plainLine(columnName(column.header, column.place))}: ${plainLine(holds)}`;
  });
  return ["", "# Columns that no field takes:", ...lines];
}
