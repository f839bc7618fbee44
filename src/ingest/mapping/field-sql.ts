import { quoteText } from "../../store/quote.ts";
import type { Cells, FieldPlan, Marks } from "./field-plan.ts";
import { fixedValue } from "./fixed-value.ts";
import { typedDate } from "./typed-date.ts";
import type { Change, Doubt, Evidence, TypedField } from "./typed-field.ts";
import { typedNumber } from "./typed-number.ts";
import { typedText } from "./typed-text.ts";
import { typedWord } from "./typed-word.ts";
import { comparedWord, normalWord } from "./word-sql.ts";

/** A field as SQL, in the stages of the generated query: each stage may read the columns of the stages before it. */
export type FieldSql = {
  /** Name of the column with the mapped text; none for a value given in the pipeline or composed. */
  text?: string;
  /** Name of the column with the same as exported, where a correction may have changed the cell. */
  exported?: string;
  /** Name of the column with the typed value. */
  value: string;
  /** SQL of the value where the pipeline gives it, the same in all rows. */
  fixed?: string;
  /** Column definitions per stage, `[name, expression]`. */
  stages: [string, string][][];
  doubts: Doubt[];
  changes: Change[];
  evidence?: Evidence;
};

export const STAGES = 6;

const BLANKS = [" ", "\t"];
const LINE_ENDS = ["\r", "\n"];
/** No-break spaces, and the mark that begins a text. */
const OTHER_BLANKS = ["\u00a0", "\u202f", "\ufeff"];

/**
 * A cell without the blanks around it; NULL where nothing is left. The engine's trim takes 0.8 us a cell, the look whether there
 * is anything to trim a tenth of that: a first byte below "!" or beyond ASCII, or a last one that is a blank.
 */
export function trimmed(cell: string, { lineEnds, ascii }: Pick<Cells, "lineEnds" | "ascii"> = ANY_CELL): string {
  const blanks = [...BLANKS, ...(lineEnds ? LINE_ENDS : []), ...(ascii ? [] : OTHER_BLANKS)];
  const ends = blanks.map((character) => `ends_with(${cell}, ${quoteText(character)})`);
  const trim = `nullif(trim(${cell}, ${quoteText(blanks.join(""))}), '')`;
  const beyond = ascii ? [] : [`${cell} > '~'`];
  return `case when ${[`${cell} < '!'`, ...beyond, ...ends].join(" or ")} then ${trim} else ${cell} end`;
}

const ANY_CELL = { lineEnds: true, ascii: false };

/** SQL for one field: its text, its typed value, and what is doubted or changed. */
export function fieldSql(plan: FieldPlan, cells: Cells): FieldSql {
  const value = `v_${plan.id}`;
  if (plan.source.compose !== undefined) return composed(plan, value);
  if (plan.cell === undefined) {
    const fixed = fixedValue(plan, plan.source.value ?? "", cells.known);
    return { value, fixed, stages: [[], [], [], [], [[value, fixed]]], doubts: [], changes: [] };
  }
  const bare = `b_${plan.id}`;
  const text = `t_${plan.id}`;
  const parsed = typedSql(plan, text, cells);
  const missing = plan.source.default === undefined ? "null" : fixedValue(plan, plan.source.default, cells.known);
  const error = cells.withoutErrors ? undefined : errorCell(bare);
  const spokenText = tidied(spoken(flat(bare, plan, cells), plan, cells.marks), plan);
  const said = error === undefined ? spokenText : `case when ${error} then null else ${spokenText} end`;
  return {
    text,
    value,
    stages: [
      [[bare, cellOf(plan, plan.cell, cells)]],
      [[text, said]],
      parsed.read,
      parsed.reread,
      [
        [
          value,
          missing === "null" ? parsed.value : `case when ${text} is null then ${missing} else ${parsed.value} end`,
        ],
      ],
    ],
    doubts: [
      ...(error === undefined ? [] : [{ when: error, rule: "error_cell" as const, message: ERROR_MESSAGE }]),
      ...parsed.doubts,
      ...missingDoubt(plan, text, error),
    ],
    changes: [...textChanges(plan, bare, text, cells), ...parsed.changes],
    ...(parsed.evidence === undefined ? {} : { evidence: parsed.evidence }),
  };
}

/** A field put together from the values of others; NULL where one of them is. */
function composed(plan: FieldPlan, value: string): FieldSql {
  const parts = plan.composedOf ?? [];
  const whole = parts.map((part) => `v_${part}::varchar`).join(" || ' ' || ");
  const message = quoteText(
    `${plan.name} is made of ${(plan.source.compose ?? []).join(", ")}, and one of them is blank`,
  );
  const doubts: Doubt[] = plan.required ? [{ when: `${value} is null`, rule: "missing", message }] : [];
  return { value, stages: [[], [], [], [], [], [[value, whole]]], doubts, changes: [] };
}

/** A measured value's cell counts on the rows that hold its kind. */
function cellOf({ measure }: FieldPlan, cell: string, cells: Cells): string {
  const { measureCell } = cells;
  if (measure === undefined || measureCell === undefined) return trimmed(cell, cells);
  return `case when ${comparedWord(`(${trimmed(measureCell)})`)} = ${quoteText(measure)} then ${trimmed(cell)} end`;
}

// What spreadsheets write where a formula failed or a column is too narrow, in English and German.
const ERRORS = "#(REF!|N/A|VALUE!|DIV/0!|NAME\\?|NUM!|NULL!|SPILL!|CALC!|GETTING_DATA|BEZUG!|NV|WERT!|ZAHL!|#+)";
const ERROR_MESSAGE = quoteText("a spreadsheet's error, not a value; mend the formula, or type the value in");

function errorCell(bare: string): string {
  return `case when starts_with(${bare}, '#') then regexp_full_match(${bare}, ${quoteText(ERRORS)}) else false end`;
}

/** A name or word on one line; remarks keep their lines. */
function flat(bare: string, { field, key }: FieldPlan, { lineEnds, known }: Cells): string {
  const isText = field.kind !== "number" && field.kind !== "date" && key !== "remarks";
  if (!lineEnds || !isText || known.severities.line_break !== "fix") return bare;
  return `case when contains(${bare}, chr(10)) or contains(${bare}, chr(13)) then regexp_replace(${bare}, '\\s*[\\r\\n]+\\s*', ' ', 'g') else ${bare} end`;
}

/** NULL for the words that mean "nothing recorded". */
function spoken(bare: string, { source }: FieldPlan, { blank }: Marks): string {
  const silent = Object.entries(source.words ?? {}).filter(([, target]) => target === null);
  const none = new Set([...blank, ...silent.map(([word]) => word)].map(normalWord));
  if (none.size === 0) return bare;
  const branches = [...none].map((word) => `when ${quoteText(word)} then null`);
  return `case ${comparedWord(bare)} ${branches.join(" ")} else ${bare} end`;
}

const TIDY = {
  upper: (text: string) => `upper(${text})`,
  collapse_blanks: (text: string) => `regexp_replace(${text}, '\\s+', ' ', 'g')`,
  strip_leading_zeros: (text: string) =>
    `case when starts_with(${text}, '0') then coalesce(nullif(ltrim(${text}, '0'), ''), '0') else ${text} end`,
} as const;

function tidied(spokenText: string, { source }: FieldPlan): string {
  return source.tidy.reduce((text, rule) => TIDY[rule](text), spokenText);
}

function textChanges({ source }: FieldPlan, bare: string, text: string, { lineEnds }: Cells): Change[] {
  const when = `${text} is not null and ${text} <> ${bare}`;
  const broken = `(contains(${bare}, chr(10)) or contains(${bare}, chr(13)))`;
  const tidied: Change[] =
    source.tidy.length === 0
      ? []
      : [{ when: lineEnds ? `${when} and not ${broken}` : when, before: bare, after: text, rule: "tidied" }];
  return lineEnds
    ? [...tidied, { when: `${when} and ${broken}`, before: bare, after: text, rule: "line_break" }]
    : tidied;
}

function missingDoubt({ required, source, name }: FieldPlan, text: string, error: string | undefined): Doubt[] {
  if (!required || source.default !== undefined) return [];
  const message = quoteText(`the row has no ${name}; complete it in the export`);
  const blank = `${text} is null`;
  return [{ when: error === undefined ? blank : `${blank} and not ${error}`, rule: "missing", message }];
}

function typedSql(plan: FieldPlan, text: string, cells: Cells): TypedField {
  const { field } = plan;
  switch (field.kind) {
    case "text":
      return plan.source.words === undefined ? typedText(plan, text, cells) : typedWord(plan, text, cells);
    case "date":
      return typedDate(plan, field, text, cells);
    case "number":
      return typedNumber(plan, field, text, cells);
    case "words":
    case "yesno":
    case "fleet":
    case "slot":
      return typedWord(plan, text, cells);
  }
}
