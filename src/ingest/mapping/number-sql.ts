import { quoteText } from "../../store/quote.ts";
import type { Dimension } from "./canonical-fields.ts";
import type { FieldPlan, Marks } from "./field-plan.ts";
import { STORED_UNIT, spellingsOf, stored, storedSql, type Unit, unitsOf } from "./units.ts";

/** A range of values, in words and as SQL on a value in the unit stored. */
export type Limits = { words: string; sql: (value: string) => string };

/** The unit that a number's cells are in: as declared; hours and speeds have one unit that goes without saying. */
export function unitOf({ field, source }: FieldPlan): Unit {
  if (source.unit !== undefined) return source.unit;
  if (field.kind !== "number") throw new RangeError(`Cannot tell the unit of a ${field.kind}`);
  return STORED_UNIT[field.dimension];
}

/** SQL that reads a number in the marks declared, NULL if it is none. A mark out of its place (12,34 for thousands) is no number. */
export function plainNumber(text: string, { decimal_mark, thousands_mark }: Marks): string {
  const comma = decimal_mark === ",";
  const ungrouped = comma ? `case when contains(${text}, '.') then null else replace(${text}, ',', '.') end` : text;
  if (thousands_mark === undefined) return cast(ungrouped);
  const mark = thousands_mark === " " ? "[ \u00a0\u202f]" : `[${thousands_mark}]`;
  const grouped = quoteText(`[+-]?\\d{1,3}(?:${mark}\\d{3})+(?:[${decimal_mark}]\\d+)?`);
  const bare = `replace(regexp_replace(${text}, ${quoteText(mark)}, '', 'g'), ${quoteText(decimal_mark)}, '.')`;
  const marked =
    thousands_mark === " "
      ? `regexp_matches(${text}, ${quoteText(mark)})`
      : `contains(${text}, ${quoteText(thousands_mark)})`;
  return `case when ${marked} then case when regexp_full_match(${text}, ${grouped}) then ${cast(bare)} end else ${cast(ungrouped)} end`;
}

/** The engine also reads inf, nan and 1_000 as numbers; no job card means one by them. */
function cast(text: string): string {
  const number = `case when contains(${text}, '_') then null else try_cast(${text} as double) end`;
  return ["inf", "-inf", "nan"].reduce((value, odd) => `nullif(${value}, '${odd}'::double)`, number);
}

/**
 * SQL that reads a number written with a unit behind it ("0.13 mm", .005"), in the unit stored; NULL if it is none.
 * @param plain - SQL of the same text read as a number without a unit: tried first, for most cells are
 */
export function ownUnitNumber(text: string, plain: string, dimension: Dimension, marks: Marks): string {
  const number = `regexp_extract(${text}, ${NUMBER_PREFIX})`;
  const unit = `lower(trim(substr(${text}, length(${number}) + 1)))`;
  const branches = unitsOf(dimension).map((name) => {
    // Not `in (...)`: the engine makes a join of a long one, and planning those takes longer than reading most exports.
    const spelt = spellingsOf(name).map((spelling) => `${unit} = ${quoteText(spelling)}`);
    return `when ${spelt.join(" or ")} then ${storedSql(`(${plainNumber(`trim(${number})`, marks)})`, name)}`;
  });
  return `case when ${plain} is not null or ${text} is null then null else case ${branches.join(" ")} end end`;
}

const NUMBER_PREFIX = quoteText("^[+-]?[0-9][0-9., \u00a0\u202f]*|^[+-]?[.,][0-9]+ *");

/** The limits that the pipeline sets for a field, or none. A value may differ from one by the rounding of the conversion. */
export function limitsOf(plan: FieldPlan): Limits | undefined {
  const { low, high } = plan.source;
  return low === undefined && high === undefined ? undefined : within(low, high, unitOf(plan));
}

function within(low: number | undefined, high: number | undefined, unit: Unit): Limits {
  const rounding = 1e-9;
  const ends: string[] = [];
  if (low !== undefined) ends.push(`>= ${number(stored(low, unit) - rounding)}`);
  if (high !== undefined) ends.push(`<= ${number(stored(high, unit) + rounding)}`);
  const named = unit === "each" || unit === "pcs" ? "" : ` ${unit}`;
  const words = `${low ?? "any"} to ${high ?? "any"}${named}`;
  return { words, sql: (value) => ends.map((end) => `${value} ${end}`).join(" and ") };
}

/**
 * What a value of a field can be at all, in the unit stored: wide enough for any pump, narrow enough for slips of the keyboard. Common
 * practice, no source. Meters below 0 and counts are checks of their own.
 */
const POSSIBLE: Partial<Record<Dimension, readonly [low: number | undefined, high: number | undefined]>> = {
  length: [0, 5000],
  temperature: [-60, 500],
  hours: [undefined, 1_000_000], // 114 years
  speed: [0, 100_000],
  force: [0, 100_000],
  days: [0, 3650],
  angle: [0, 90],
  money: [0, undefined],
};
/** Preload is written as end play below 0. */
const POSSIBLE_END_PLAY = [-5, 5] as const;

/** The limits of a field for which the pipeline sets none. */
export function possibleOf({ key, field }: FieldPlan): Limits | undefined {
  if (field.kind !== "number") return undefined;
  const [low, high] = key.startsWith("end_play") ? POSSIBLE_END_PLAY : (POSSIBLE[field.dimension] ?? []);
  return low === undefined && high === undefined ? undefined : within(low, high, STORED_UNIT[field.dimension]);
}

function number(value: number): string {
  return `(${value}::double)`;
}
