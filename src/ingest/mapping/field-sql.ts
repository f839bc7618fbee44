import { quoteText } from "../../store/quote.ts";
import type { CanonicalField } from "./canonical-fields.ts";
import type { FieldPlan, Known, Marks } from "./field-plan.ts";
import { fixedValue } from "./fixed-value.ts";
import { type Limits, limitsOf, ownUnitNumber, plainNumber, unitOf } from "./number-sql.ts";
import { STORED_UNIT, storedSql } from "./units.ts";
import { comparedWord, normalWord, targetsOf, wordSql } from "./word-sql.ts";

/** A reason to refuse a value: when (SQL boolean), by which rule, and the message (SQL text). */
type Refusal = { when: string; rule: string; message: string };

/** A field as SQL, in the stages of the generated query: each stage may read the columns of the stages before it. */
export type FieldSql = {
  /** Name of the column with the mapped text; none for a value given in the pipeline. */
  text?: string;
  /** Name of the column with the typed value. */
  value: string;
  /** Column definitions per stage, `[name, expression]`. */
  stages: [string, string][][];
  refusals: Refusal[];
  /** A value that a declared rule changed. */
  corrections: { when: string; before: string; after: string; rule: string }[];
};

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

/** SQL for one field: its text, its typed value, and what is refused or corrected. */
export function fieldSql(plan: FieldPlan, marks: Marks, known: Known): FieldSql {
  const value = `v_${plan.id}`;
  if (plan.cell === undefined) {
    const fixed = fixedValue(plan, plan.source.value ?? "", known);
    return { value, stages: [[], [], [], [], [[value, fixed]]], refusals: [], corrections: [] };
  }
  const bare = `b_${plan.id}`;
  const text = `t_${plan.id}`;
  const parsed = typedSql(plan, text, marks, known);
  const missing = plan.source.default === undefined ? "null" : fixedValue(plan, plan.source.default, known);
  return {
    text,
    value,
    stages: [
      [[bare, trimmed(plan.cell)]],
      [[text, tidied(spoken(bare, plan, marks), plan)]],
      parsed.read,
      parsed.reread,
      [
        [
          value,
          missing === "null" ? parsed.value : `case when ${text} is null then ${missing} else ${parsed.value} end`,
        ],
      ],
    ],
    refusals: [...parsed.refusals, ...requiredRefusal(plan, text)],
    corrections: [...tidyCorrection(plan, bare, text), ...parsed.corrections],
  };
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

function tidyCorrection({ source }: FieldPlan, bare: string, text: string): FieldSql["corrections"] {
  if (source.tidy.length === 0) return [];
  const when = `${text} is not null and ${text} <> ${bare}`;
  return [{ when, before: bare, after: text, rule: quoteText(source.tidy.join(", ")) }];
}

function requiredRefusal({ required, source, name }: FieldPlan, text: string): Refusal[] {
  if (!required || source.default !== undefined) return [];
  const message = quoteText(`the row has no ${name}; complete it in the export`);
  return [{ when: `${text} is null`, rule: "missing", message }];
}

type Typed = {
  read: [string, string][];
  /** May use what `read` gives. */
  reread: [string, string][];
  value: string;
  refusals: Refusal[];
  corrections: FieldSql["corrections"];
};

function typedSql(plan: FieldPlan, text: string, marks: Marks, known: Known): Typed {
  const { field } = plan;
  switch (field.kind) {
    case "text":
      return plan.source.words === undefined ? asItStands(text) : typedWord(plan, text, known);
    case "date":
      return typedDate(plan, text, known);
    case "number":
      return typedNumber(plan, field, text, marks);
    case "words":
    case "yesno":
    case "fleet":
    case "slot":
      return typedWord(plan, text, known);
  }
}

function asItStands(text: string): Typed {
  return { read: [], reread: [], value: text, refusals: [], corrections: [] };
}

function typedWord(plan: FieldPlan, text: string, known: Known): Typed {
  const word = `n_${plan.id}`;
  const targets = targetsOf(plan, known);
  const { value, message } = wordSql(plan, text, word, targets);
  const rule =
    plan.field.kind === "fleet" ? "unknown_fleet" : plan.field.kind === "slot" ? "unknown_slot" : "unknown_word";
  return {
    read: [[word, value]],
    reread: [],
    value: plan.field.kind === "yesno" ? `${word} = 'yes'` : word,
    refusals: [{ when: `${text} is not null and ${word} is null`, rule, message }],
    corrections: [],
  };
}

function typedDate(plan: FieldPlan, text: string, known: Known): Typed {
  const day = `n_${plan.id}`;
  const patterns = plan.source.dates ?? [];
  const parsed = `coalesce(${["null", ...patterns.map((pattern) => dayByPattern(text, pattern))].join(", ")})::date`;
  const possible = `${day} between date '1950-01-01' and ${quoteText(known.today)}::date + 1`;
  return {
    read: [[day, parsed]],
    reread: [],
    value: `case when ${possible} then ${day} end`,
    refusals: [
      {
        when: `${text} is not null and ${day} is null`,
        rule: "not_a_date",
        message: quoteText(`no date of the form ${patterns.join(" or ")}; correct it, or add its pattern to "dates"`),
      },
      {
        when: `${day} is not null and not (${possible})`,
        rule: "impossible_date",
        message: quoteText(`the day lies before 1950-01-01 or after ${known.today}; correct it in the export`),
      },
    ],
    corrections: [],
  };
}

/** A failing parse is five times as slow as a good one: it is tried only where the pattern's first sign of its own is there. */
function dayByPattern(text: string, pattern: string): string {
  const sign = /[^\s%]/.exec(pattern.replace(/%-?./g, ""))?.[0];
  const parsed = `try_strptime(${text}, ${quoteText(pattern)})`;
  return sign === undefined ? parsed : `case when contains(${text}, ${quoteText(sign)}) then ${parsed} end`;
}

function typedNumber(plan: FieldPlan, field: CanonicalField & { kind: "number" }, text: string, marks: Marks): Typed {
  const plain = `p_${plan.id}`;
  const own = `o_${plan.id}`;
  const unit = unitOf(plan);
  const found = `coalesce(${plain}, ${own})`;
  const limits = limitsOf(plan);
  const meter = field.dimension === "hours";
  const value = limits === undefined ? found : `case when ${limits.sql(found)} then ${found} end`;
  const after = `${own}::varchar || ${quoteText(` ${STORED_UNIT[field.dimension]}`)}`;
  return {
    read: [[plain, storedSql(`(${plainNumber(text, marks)})`, unit)]],
    reread: [[own, ownUnitNumber(text, plain, field.dimension, marks)]],
    value,
    refusals: [
      {
        when: `${text} is not null and ${found} is null`,
        rule: "not_a_number",
        message: quoteText(
          `no number with "${marks.decimal_mark}" as decimal mark, in ${unit} or with its unit; correct the cell`,
        ),
      },
      ...outOfRange(limits, found, meter),
      ...(meter ? [negativeMeter(found)] : []),
    ],
    corrections: [{ when: `${own} is not null`, before: text, after, rule: "'own_unit'" }],
  };
}

function outOfRange(limits: Limits | undefined, found: string, meter: boolean): Refusal[] {
  if (limits === undefined) return [];
  const message = quoteText(`outside ${limits.words}; correct the cell, or the field's unit or limits in the pipeline`);
  const inside = limits.sql(found);
  const when = `${found} is not null and not (${inside})`;
  return [{ when: meter ? `${found} >= 0 and ${when}` : when, rule: "out_of_range", message }];
}

/** Rule whose refusal always quarantines the row: a meter can't stand below nothing. */
export const NEGATIVE_METER = "negative_meter";

function negativeMeter(found: string): Refusal {
  return {
    when: `${found} < 0`,
    rule: NEGATIVE_METER,
    message: quoteText("a meter can't stand below 0; correct the card"),
  };
}
