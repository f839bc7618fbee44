import { inWords } from "../../src/questions/wording.ts";

/**
 * What is usual by the readings themselves; a length can't lie below 0, whatever the limits reckon.
 * @example usualWords({ low: -0.95, high: 9.62 }, "thou"); // "under 0 to 9.62 thou"
 */
export function usualWords({ low, high }: { low: number; high: number }, unit: string): string {
  return `${lowerWords(low)} to ${inWords(high)}${unit === "" ? "" : ` ${unit}`}`;
}

/** A lower limit of readings that can't lie below 0. */
export function lowerWords(low: number): string {
  return low < 0 ? "under 0" : inWords(low);
}
