import { stored, type Unit } from "../ingest/mapping/units.ts";

/** Fixes that bring a number to the unit stored. */
const CONVERTED = new Set(["own_unit", "unit_mixup"]);

const shown = new Intl.NumberFormat("en-US", { maximumSignificantDigits: 6, useGrouping: false });

/**
 * What a fix has recorded, for people: a number that was converted in the unit that its column is in.
 * @example changeAfter("own_unit", "0.13 mm", "thou"); // "5.11811 thou"
 */
export function changeAfter(rule: string, after: string | null, unit: Unit | null): string | null {
  if (after === null || unit === null || !CONVERTED.has(rule)) return after;
  const [zero, one] = [stored(0, unit), stored(1, unit)];
  return `${shown.format((Number.parseFloat(after) - zero) / (one - zero))} ${unit}`;
}
