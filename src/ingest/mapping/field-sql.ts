import { quoteText } from "../../store/quote.ts";
import type { RuleName } from "../../workspace/rules.ts";
import type { CanonicalField } from "./canonical-fields.ts";
import { DATE_EVIDENCE, dateSql } from "./date-sql.ts";
import type { Cells, FieldPlan, Marks } from "./field-plan.ts";
import { fixedValue } from "./fixed-value.ts";
import { type Limits, limitsOf, ownUnitNumber, plainNumber, unitOf } from "./number-sql.ts";
import { STORED_UNIT, storedSql } from "./units.ts";
import { comparedWord, normalWord, targetsOf, wordSql } from "./word-sql.ts";

/** A doubt about a value: when (SQL boolean), by which rule, and the message (SQL text). */
type Doubt = { when: string; rule: RuleName; message: string };

/** A field as SQL, in the stages of the generated query: each stage may read the columns of the stages before it. */
export type FieldSql = {
  /** Name of the column with the mapped text; none for a value given in the pipeline or composed. */
  text?: string;
  /** Name of the column with the typed value. */
  value: string;
  /** Column definitions per stage, `[name, expression]`. */
  stages: [string, string][][];
  doubts: Doubt[];
  /** A value that is not what the cell says. */
  changes: { when: string; before: string; after: string; rule: RuleName }[];
  /** What the cells of a column say of it together: `dates` codes how a day was read, `number` is the value before its limits. */
  evidence?: { dates: string } | { number: string };
};

export const STAGES = 6;

const BLANK_CHARACTERS = [" ", "\t", "\r", "\n", "\u00a0", "\u202f", "\ufeff"];

/**
 * A cell without the blanks around it; NULL where nothing is left. The engine's trim takes 0.8 us a cell, the look whether there
 * is anything to trim a tenth of that: a first byte below "!" or beyond ASCII, or a last one that is a blank.
 */
export function trimmed(cell: string): string {
  const ends = BLANK_CHARACTERS.map((character) => `ends_with(${cell}, ${quoteText(character)})`);
  const trim = `nullif(trim(${cell}, ${quoteText(BLANK_CHARACTERS.join(""))}), '')`;
  return `case when ${cell} < '!' or ${cell} > '~' or ${ends.join(" or ")} then ${trim} else ${cell} end`;
}

/** SQL for one field: its text, its typed value, and what is doubted or changed. */
export function fieldSql(plan: FieldPlan, cells: Cells): FieldSql {
  const value = `v_${plan.id}`;
  if (plan.source.compose !== undefined) return composed(plan, value);
  if (plan.cell === undefined) {
    const fixed = fixedValue(plan, plan.source.value ?? "", cells.known);
    return { value, stages: [[], [], [], [], [[value, fixed]]], doubts: [], changes: [] };
  }
  const bare = `b_${plan.id}`;
  const text = `t_${plan.id}`;
  const parsed = typedSql(plan, text, cells);
  const missing = plan.source.default === undefined ? "null" : fixedValue(plan, plan.source.default, cells.known);
  const error = errorCell(bare);
  const said = `case when ${error} then null else ${tidied(spoken(flat(bare, plan, cells), plan, cells.marks), plan)} end`;
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
      { when: error, rule: "error_cell", message: ERROR_MESSAGE },
      ...parsed.doubts,
      ...missingDoubt(plan, text, bare),
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
function cellOf({ measure }: FieldPlan, cell: string, { measureCell }: Cells): string {
  if (measure === undefined || measureCell === undefined) return trimmed(cell);
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

function textChanges({ source }: FieldPlan, bare: string, text: string, { lineEnds }: Cells): FieldSql["changes"] {
  const when = `${text} is not null and ${text} <> ${bare}`;
  const broken = `(contains(${bare}, chr(10)) or contains(${bare}, chr(13)))`;
  const tidied: FieldSql["changes"] =
    source.tidy.length === 0
      ? []
      : [{ when: lineEnds ? `${when} and not ${broken}` : when, before: bare, after: text, rule: "tidied" }];
  return lineEnds
    ? [...tidied, { when: `${when} and ${broken}`, before: bare, after: text, rule: "line_break" }]
    : tidied;
}

function missingDoubt({ required, source, name }: FieldPlan, text: string, bare: string): Doubt[] {
  if (!required || source.default !== undefined) return [];
  const message = quoteText(`the row has no ${name}; complete it in the export`);
  return [{ when: `${text} is null and not ${errorCell(bare)}`, rule: "missing", message }];
}

type Typed = {
  read: [string, string][];
  /** May use what `read` gives. */
  reread: [string, string][];
  value: string;
  doubts: Doubt[];
  changes: FieldSql["changes"];
  evidence?: FieldSql["evidence"];
};

function typedSql(plan: FieldPlan, text: string, cells: Cells): Typed {
  const { field } = plan;
  switch (field.kind) {
    case "text":
      return plan.source.words === undefined ? asItStands(plan, text, cells) : typedWord(plan, text, cells);
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

/** Fields whose texts name things: a spreadsheet may have taken them for numbers or days. */
const NAMES = new Set(["card", "unit", "part", "batch"]);
const MONTHS = "jan|feb|mar|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez";

function asItStands(plan: FieldPlan, text: string, { known }: Cells): Typed {
  const none = { read: [], reread: [], changes: [] };
  if (!NAMES.has(plan.key)) return { ...none, value: text, doubts: [] };
  const rounded = `case when contains(${text}, '+') then regexp_full_match(${text}, '[0-9]([.,][0-9]+)?[eE]\\+[0-9]+') else false end`;
  const doubts: Doubt[] = [
    {
      when: rounded,
      rule: "lost_digits",
      message: quoteText("a spreadsheet has rounded it, and its last figures are gone; export the column as text"),
    },
  ];
  if (plan.key === "unit" || plan.key === "card") {
    const day = quoteText(`([0-9]{1,2}[-.](${MONTHS})|(${MONTHS})[-.][0-9]{2})`);
    doubts.push({
      when: `case when contains(${text}, '-') then regexp_full_match(lower(${text}), ${day}) else false end`,
      rule: "date_like_name",
      message: quoteText(
        "looks like a day that a spreadsheet made of a number such as 3-1; look at the card, and export as text",
      ),
    });
  }
  const value = known.severities.lost_digits === "warn" ? text : `case when ${rounded} then null else ${text} end`;
  return { ...none, value, doubts };
}

function typedWord(plan: FieldPlan, text: string, { known }: Cells): Typed {
  const word = `n_${plan.id}`;
  const targets = targetsOf(plan, known);
  const { value, message } = wordSql(plan, text, word, targets);
  const rule =
    plan.field.kind === "fleet" ? "unknown_fleet" : plan.field.kind === "slot" ? "unknown_slot" : "unknown_word";
  return {
    read: [[word, value]],
    reread: [],
    value: plan.field.kind === "yesno" ? `${word} = 'yes'` : word,
    doubts: [{ when: `${text} is not null and ${word} is null`, rule, message }],
    changes: [],
  };
}

function typedDate(plan: FieldPlan, field: CanonicalField & { kind: "date" }, text: string, cells: Cells): Typed {
  const { known } = cells;
  const patterns = plan.source.dates ?? [];
  const { numeric, other, serial } = dateSql(text, patterns, cells);
  const [asDeclared, counted, day] = [`s_${plan.id}`, `q_${plan.id}`, `n_${plan.id}`];
  const fixesSerials = serial !== undefined && known.severities.serial_date === "fix";
  const after = field.ahead ? "true" : `${day} <= ${quoteText(known.today)}::date + 1`;
  const past = `${day} >= date '1950-01-01'`;
  return {
    read: [
      [asDeclared, numeric?.day ?? "null::date"],
      [counted, serial ?? "null::date"],
    ],
    reread: [[day, `coalesce(${[asDeclared, other, ...(fixesSerials ? [counted] : [])].join(", ")})`]],
    value: `case when ${past} and ${after} then ${day} end`,
    doubts: [
      ...(serial === undefined || fixesSerials
        ? []
        : [{ when: `${counted} is not null`, rule: "serial_date" as const, message: SERIAL_MESSAGE }]),
      {
        when: `${text} is not null and ${day} is null${fixesSerials ? "" : ` and ${counted} is null`}`,
        rule: "not_a_date",
        message: quoteText(`no date of the form ${patterns.join(" or ")}; correct it, or add its pattern to "dates"`),
      },
      {
        when: `not (${past})`,
        rule: "impossible_date",
        message: quoteText("the day lies before 1950-01-01; correct it in the export"),
      },
      {
        when: `not (${after})`,
        rule: "future_date",
        message: quoteText(`the day lies after ${known.today}, the day of reading; correct it in the export`),
      },
    ],
    changes: fixesSerials
      ? [
          {
            when: `${counted} is not null and ${asDeclared} is null`,
            before: text,
            after: `${counted}::varchar`,
            rule: "serial_date",
          },
        ]
      : [],
    ...(numeric === undefined ? {} : { evidence: { dates: evidenceOf(asDeclared, numeric.swapped, text) } }),
  };
}

const SERIAL_MESSAGE = quoteText("a spreadsheet's day number; export the column as dates");

function evidenceOf(asDeclared: string, swapped: string, text: string): string {
  const { none, ambiguous, asDeclared: plain, swapped: other } = DATE_EVIDENCE;
  return `case when ${text} is null then ${none}
    when ${asDeclared} is null then case when ${swapped} is null then ${none} else ${other} end
    when day(${asDeclared}) > 12 then ${plain}
    when day(${asDeclared}) = month(${asDeclared}) then ${none} else ${ambiguous} end::utinyint`;
}

function typedNumber(plan: FieldPlan, field: CanonicalField & { kind: "number" }, text: string, cells: Cells): Typed {
  const { marks, known } = cells;
  const plain = `p_${plan.id}`;
  const own = `o_${plan.id}`;
  const unit = unitOf(plan);
  const found = `coalesce(${plain}, ${own})`;
  const limits = limitsOf(plan);
  const meter = field.dimension === "hours";
  const inside = limits === undefined || known.severities.out_of_range === "warn" ? undefined : limits.sql(found);
  const bounds = [...(inside === undefined ? [] : [inside]), ...(meter ? [`${found} >= 0`] : [])];
  const after = `${own}::varchar || ${quoteText(` ${STORED_UNIT[field.dimension]}`)}`;
  const mixes = field.dimension === "length" || field.dimension === "temperature";
  const ownUnit = known.severities.own_unit === "fix";
  return {
    read: [[plain, storedSql(`(${plainNumber(text, marks)})`, unit)]],
    reread: [[own, ownUnitNumber(text, plain, field.dimension, marks)]],
    value:
      bounds.length === 0
        ? taken(found, plain, ownUnit)
        : `case when ${bounds.join(" and ")} then ${taken(found, plain, ownUnit)} end`,
    doubts: [
      {
        when: `${text} is not null and ${found} is null`,
        rule: "not_a_number",
        message: quoteText(
          `no number with "${marks.decimal_mark}" as decimal mark, in ${unit} or with its unit; correct the cell`,
        ),
      },
      ...(ownUnit ? [] : [{ when: `${own} is not null`, rule: "own_unit" as const, message: OWN_UNIT_MESSAGE }]),
      ...outOfRange(limits, found, meter),
      ...(meter ? [negativeMeter(found)] : []),
    ],
    changes: ownUnit ? [{ when: `${own} is not null`, before: text, after, rule: "own_unit" }] : [],
    ...(mixes ? { evidence: { number: plain } } : {}),
  };
}

const OWN_UNIT_MESSAGE = quoteText("a unit stands behind the number; write the number alone, in the column's unit");

function taken(found: string, plain: string, ownUnit: boolean): string {
  return ownUnit ? found : plain;
}

function outOfRange(limits: Limits | undefined, found: string, meter: boolean): Doubt[] {
  if (limits === undefined) return [];
  const message = quoteText(`outside ${limits.words}; correct the cell, or the field's unit or limits in the pipeline`);
  const inside = limits.sql(found);
  const when = `${found} is not null and not (${inside})`;
  return [{ when: meter ? `${found} >= 0 and ${when}` : when, rule: "out_of_range", message }];
}

function negativeMeter(found: string): Doubt {
  return {
    when: `${found} < 0`,
    rule: "negative_meter",
    message: quoteText("a meter can't stand below 0; correct the card"),
  };
}
