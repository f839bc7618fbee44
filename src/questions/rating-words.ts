import type { Rating } from "./life-answer.ts";
import type { Stated } from "./rating-facts.ts";

export type BasisRow = Rating["basis"][number];

/** What stops a rating: which value is missing, and where to put it. */
export type Missing = { missing: string };

export const STANDARD = "ISO 281:2007";

const exact = new Intl.NumberFormat("en-US", { maximumSignificantDigits: 8 });

/** A row of what a rating rests on: a value as it was given. */
export function givenRow(name: string, { value, source }: Stated<number>, unit: string): BasisRow {
  return { name, value: `${exact.format(value)}${unit === "" ? "" : ` ${unit}`}`, source };
}

/** "put viscosity under bearings, drive_end_bearings in framelife.yaml". */
export function putUnder(slot: string, what: string): string {
  return `put ${what} under bearings, ${slot} in framelife.yaml`;
}
