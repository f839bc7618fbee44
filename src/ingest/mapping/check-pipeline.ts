import type { FieldSource } from "../../workspace/pipeline.ts";
import type { NamedPipeline } from "../../workspace/workspace.ts";
import {
  CANONICAL_FIELDS,
  CARD_DATES,
  type CanonicalField,
  fieldsOf,
  MEASURED_FIELDS,
  requiredOf,
  SLOT_FIELDS,
} from "./canonical-fields.ts";
import { isSerial } from "./date-sql.ts";
import type { FieldPlan, Known } from "./field-plan.ts";
import { FixedValueFault, fixedValue } from "./fixed-value.ts";
import { nearest } from "./nearest.ts";
import { pipelineFault } from "./pipeline-fault.ts";
import { SELF_EVIDENT, STORED_UNIT, stored, type Unit, unitsOf } from "./units.ts";
import { canonicalWords, normalWord, targetWord } from "./word-sql.ts";

/** A mapped field whose column isn't looked up yet. */
export type UnboundField = Omit<FieldPlan, "cell"> & { place: string[] };

/**
 * The fields that a pipeline maps, checked against our fields, their words and the workspace's fleets and slots.
 * @throws UserError naming the pipeline's file, the line, what stands there and the remedy
 */
export function checkPipeline(named: NamedPipeline, known: Known): UnboundField[] {
  const { pipeline } = named;
  refuseFormat(named);
  const own = Object.entries(pipeline.fields).map(([key, source]) => {
    const place = ["fields", key];
    return unbound(named, key, source, fieldsOf(pipeline), place);
  });
  const slotted = Object.entries(pipeline.slots).flatMap(([slot, fields]) => {
    if (!known.slots.includes(slot)) {
      throw pipelineFault(
        named,
        ["slots", slot],
        `"${slot}" is no slot of the workspace; its slots are ${known.slots.join(", ")}`,
      );
    }
    return Object.entries(fields).map(([key, source]) => ({
      ...unbound(named, key, source, SLOT_FIELDS, ["slots", slot, key]),
      name: `${slot}.${key}`,
      slot,
    }));
  });
  const fields = [...own, ...slotted, ...measured(named)].map((field, index) => ({ ...field, id: `f${index}` }));
  refuseMissing(named);
  for (const field of fields) checkField(named, field, known);
  return fields;
}

/** The fields that measured values fill: one for each word that names a kind of value. */
function measured(named: NamedPipeline): UnboundField[] {
  return Object.entries(named.pipeline.measures).flatMap(([word, measure]) => {
    if (measure === null) return [];
    const { field: key, ...source } = measure;
    const place = ["measures", word];
    if (!MEASURED_FIELDS.includes(key)) {
      throw pipelineFault(
        named,
        [...place, "field"],
        `"${key}" is no measured value of a card; those are ${MEASURED_FIELDS.join(", ")}`,
      );
    }
    const field = CANONICAL_FIELDS.rebuild[key]!;
    return [{ id: "", name: key, key, field, source, required: false, place, measure: normalWord(word) }];
  });
}

function refuseFormat(named: NamedPipeline): void {
  const { delimiter, decimal_mark, thousands_mark, layout, record, slots } = named.pipeline;
  if (delimiter !== undefined && (!/^[ -~\t]$/.test(delimiter) || delimiter === '"')) {
    throw pipelineFault(
      named,
      ["delimiter"],
      `"${delimiter}" can't divide cells; give one plain character such as ";" or a tab`,
    );
  }
  if (decimal_mark === thousands_mark) {
    throw pipelineFault(
      named,
      ["thousands_mark"],
      `"${decimal_mark}" is the decimal mark too; give another, or leave it out`,
    );
  }
  if (layout !== "wide" && (record !== "rebuild" || Object.keys(slots).length > 0)) {
    const remedy =
      layout === "long"
        ? "map slot, fitted, condition and the like under fields"
        : "map the word that names the value as measure, and the values under measures";
    throw pipelineFault(
      named,
      ["layout"],
      `a ${layout} layout is for rebuilds, and has no slots block; ${remedy}, or leave layout out`,
    );
  }
}

function unbound(
  named: NamedPipeline,
  key: string,
  source: FieldSource,
  fields: Record<string, CanonicalField>,
  place: string[],
): UnboundField {
  const field = Object.hasOwn(fields, key) ? fields[key] : undefined;
  if (field === undefined) throw pipelineFault(named, place, unknownField(key, Object.keys(fields)));
  const required = source.required || (place.length === 2 && requiredOf(named.pipeline).includes(key));
  return { id: "", name: key, key, field, source, required, place };
}

function unknownField(key: string, keys: string[]): string {
  if (key in SLOT_FIELDS) return `"${key}" belongs to a slot; put it under slots, or say "layout: long"`;
  return `there is no field "${key}"; did you mean "${nearest(key, keys)}"? Fields here are ${keys.join(", ")}`;
}

function refuseMissing(named: NamedPipeline): void {
  const { record, fields, layout } = named.pipeline;
  const wanted = [...requiredOf(named.pipeline), ...(layout === "long" ? ["slot"] : [])];
  const missing = wanted.filter((key) => !(key in fields));
  if (missing.length > 0)
    throw pipelineFault(named, ["fields"], `a ${record} needs ${missing.join(", ")}; map it, or give its value`);
  if (record === "rebuild" && layout !== "measured" && !CARD_DATES.some((key) => key in fields)) {
    throw pipelineFault(named, ["fields"], `a rebuild needs a day: map at least one of ${CARD_DATES.join(", ")}`);
  }
}

function checkField(named: NamedPipeline, plan: UnboundField, known: Known): void {
  const fault = (found: string, ...key: string[]) => pipelineFault(named, [...plan.place, ...key], found);
  checkUnit(plan, fault);
  checkDates(plan, fault);
  checkCompose(named, plan, fault);
  checkWords(plan, known, fault);
  for (const key of ["value", "default"] as const) {
    const text = plan.source[key];
    if (text === undefined) continue;
    try {
      fixedValue(plan, text, known);
    } catch (error) {
      if (error instanceof FixedValueFault) throw fault(error.message, key);
      throw error;
    }
  }
  if (plan.source.value !== undefined && plan.source.default !== undefined) {
    throw fault("a field with a value for all rows has no blank cells; leave the default out", "default");
  }
}

type Fault = (found: string, ...key: string[]) => Error;

function checkCompose({ pipeline }: NamedPipeline, { field, source, key }: UnboundField, fault: Fault): void {
  const { compose } = source;
  if (compose === undefined) return;
  if (field.kind !== "text") throw fault("only a text can be composed of others; give its column", "compose");
  for (const part of compose) {
    const other = pipeline.fields[part];
    if (part === key || other === undefined || other.compose !== undefined) {
      throw fault(`"${part}" is no field with a column of its own here; compose of fields that are mapped`, "compose");
    }
  }
}

function checkUnit({ field, source }: UnboundField, fault: Fault): void {
  const { unit, low, high } = source;
  if (field.kind !== "number") {
    const unused = (["unit", "low", "high"] as const).find((key) => source[key] !== undefined);
    if (unused !== undefined) throw fault(`${unused} is for numbers, and this field holds none; leave it out`, unused);
    return;
  }
  const units: Unit[] = unitsOf(field.dimension);
  if (unit !== undefined && !units.includes(unit))
    throw fault(`"${unit}" is no unit of it; give ${units.join(", ")}`, "unit");
  if (unit === undefined && !SELF_EVIDENT.has(field.dimension)) {
    throw fault(`the unit of its cells is not said; give unit: ${units.join(", ")}`);
  }
  checkLimits({ low, high }, unit ?? STORED_UNIT[field.dimension], fault);
}

function checkLimits({ low, high }: Pick<FieldSource, "low" | "high">, unit: Unit, fault: Fault): void {
  for (const [key, limit] of Object.entries({ low, high })) {
    if (limit !== undefined && !Number.isFinite(stored(limit, unit))) {
      throw fault(`${limit} is more than can be reckoned with; give what its gauge can read, or leave it out`, key);
    }
  }
  if (low !== undefined && high !== undefined && low >= high)
    throw fault(`low ${low} must lie below high ${high}`, "low");
}

// Year, month and day in any spelling, and times of day; no time zones: a job card's day is where the shop is.
const DATE_LETTERS = new Set("aAbBcdmyYjHIMSpfz%-".split(""));

function checkDates({ field, source }: UnboundField, fault: Fault): void {
  const { dates } = source;
  if (field.kind !== "date") {
    if (dates !== undefined)
      throw fault("date patterns are for days, and this field holds none; leave them out", "dates");
    return;
  }
  if (dates === undefined) {
    if (source.column === undefined) return;
    throw fault('the pattern of its days is not said; give dates: ["%d/%m/%Y"] or the like');
  }
  for (const pattern of dates.filter((text) => !isSerial(text))) checkPattern(pattern, fault);
}

function checkPattern(pattern: string, fault: Fault): void {
  const letters = [...pattern.matchAll(/%(-?.)/g)].map((found) => found[1]?.replace("-", "") ?? "");
  const unknown = letters.find((letter) => !DATE_LETTERS.has(letter));
  if (unknown !== undefined)
    throw fault(`"%${unknown}" in "${pattern}" is no part of a day; use %d, %m, %b, %Y and the like`, "dates");
  if (letters.includes("z") && !pattern.endsWith("%z"))
    throw fault(`"%z" in "${pattern}", the zone of a time, must come last; the day is taken as it is written`, "dates");
  if (!saysTheDay(letters))
    throw fault(`"${pattern}" must say the year, the month and the day: %Y or %y, %m or %b, %d`, "dates");
}

function saysTheDay(letters: string[]): boolean {
  const has = (...any: string[]) => any.some((letter) => letters.includes(letter));
  return has("y", "Y") && (has("j") || (has("m", "b", "B") && has("d")));
}

function checkWords(plan: UnboundField, known: Known, fault: Fault): void {
  const { words, column } = plan.source;
  if (words === undefined) return;
  if (plan.field.kind === "date" || plan.field.kind === "number") {
    throw fault('words are for fields of words; cells that mean nothing go under "blank"', "words");
  }
  if (column === undefined)
    throw fault("a field with a value for all rows has no words to translate; leave them out", "words");
  const canonical = canonicalWords(plan, known);
  for (const [word, target] of Object.entries(words)) {
    if (target === null || canonical === undefined || canonical.includes(targetWord(plan, target))) continue;
    throw fault(
      `"${target}" is not one of ${canonical.join(", ")}; nearest is "${nearest(target, canonical)}"`,
      "words",
      word,
    );
  }
}
