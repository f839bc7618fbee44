import { quoteText } from "../../store/quote.ts";
import type { FieldPlan, Known } from "./field-plan.ts";
import { unitOf } from "./number-sql.ts";
import { stored } from "./units.ts";
import { canonicalWords, targetWord } from "./word-sql.ts";

/** Why a value written in the pipeline can't be taken. */
export class FixedValueFault extends Error {
  override readonly name = "FixedValueFault";
}

/**
 * A value written in the pipeline itself (`value`, `default`) as an SQL literal: words are ours, dates YYYY-MM-DD, numbers
 * in the field's unit with a decimal point.
 * @throws FixedValueFault if it is none
 */
export function fixedValue(plan: FieldPlan, text: string, known: Known): string {
  switch (plan.field.kind) {
    case "text":
      return quoteText(text);
    case "date":
      return fixedDate(text);
    case "number":
      return fixedNumber(plan, text);
    case "words":
    case "yesno":
    case "fleet":
    case "slot":
      return fixedWord(plan, text, known);
  }
}

function fixedDate(text: string): string {
  const time = Date.parse(`${text}T00:00:00Z`);
  const isDay =
    /^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(time) && new Date(time).toISOString().startsWith(text);
  if (!isDay) throw new FixedValueFault(`"${text}" is no day; write it as YYYY-MM-DD`);
  return `${quoteText(text)}::date`;
}

function fixedNumber(plan: FieldPlan, text: string): string {
  const value = text.trim() === "" ? Number.NaN : Number(text);
  if (!Number.isFinite(value)) throw new FixedValueFault(`"${text}" is no number; write it with a decimal point`);
  const { low = Number.NEGATIVE_INFINITY, high = Number.POSITIVE_INFINITY } = plan.source;
  if (value < low || value > high) throw new FixedValueFault(`${text} lies outside the field's own limits`);
  const inStore = stored(value, unitOf(plan));
  if (!Number.isFinite(inStore)) throw new FixedValueFault(`${text} is more than can be reckoned with; correct it`);
  return `(${inStore}::double)`;
}

function fixedWord(plan: FieldPlan, text: string, known: Known): string {
  const word = targetWord(plan, text);
  const words = canonicalWords(plan, known) ?? [];
  if (!words.includes(word)) throw new FixedValueFault(`"${text}" is not one of ${words.join(", ")}`);
  return plan.field.kind === "yesno" ? String(word === "yes") : quoteText(word);
}
