import type { Clock } from "./answer.ts";
import type { Estimate } from "./estimate.ts";

let grouped: Intl.NumberFormat | undefined;

/** A figure for people: three significant digits, thousands grouped. */
export function inWords(value: number): string {
  // Not made before it is needed: the first one takes as long as a whole small command.
  grouped ??= new Intl.NumberFormat("en-US", { maximumSignificantDigits: 3 });
  return grouped.format(value);
}

/** A chance with what goes before it: "= 0.034", "under 0.001". */
export function chanceInWords(p: number): string {
  return p < 0.001 ? "under 0.001" : `= ${inWords(p)}`;
}

/** Times the estimate from which on limits say no more than that nothing is known. */
const BEYOND_SENSE = 1e6;

/** What is said of limits that lie so far from their estimate that their figures would say nothing. */
export const TOO_WIDE = "limits too wide to tell";

export function isTooWide({ estimate, low, high }: Estimate): boolean {
  if (estimate === null || !(estimate > 0)) return false;
  const times = Math.max(high === null ? 1 : high / estimate, low === null || low <= 0 ? 1 : estimate / low);
  return times > BEYOND_SENSE;
}

/** "5,910 h (4,720 to 7,130)"; a missing end is said in words. */
export function withLimits({ estimate, low, high, reason }: Estimate, unit: string): string {
  if (estimate === null) return `not known (${reason ?? "no estimate"})`;
  const figure = `${inWords(estimate)}${unit}`;
  if (isTooWide({ estimate, low, high })) return `${figure} (${TOO_WIDE})`;
  if (low !== null && high !== null) return `${figure} (${inWords(low)} to ${inWords(high)})`;
  if (low !== null) return `${figure} (at least ${inWords(low)})`;
  if (high !== null) return `${figure} (at most ${inWords(high)})`;
  return `${figure} (limits not known)`;
}

/** The unit that a clock counts in, with the blank before it; a plain table has none. */
export function unitOf(clock: Clock | null): string {
  if (clock === null) return "";
  return clock === "hours" ? " h" : " days";
}

/** A figure with all its digits, less what converting leaves in the last ones: "0.1778". */
export function unrounded(value: number): string {
  return String(Number(value.toPrecision(12)));
}

/** A whole number for people: "61", "12,345". */
export function inFull(number: number): string {
  // Below a thousand there is nothing to group, and no number format to make.
  return number < 1000 ? String(number) : number.toLocaleString("en-US");
}

/** Pieces counted or to order, or an amount that was given: to the last one, for it is acted on. "1,234", "30.5". */
export function exactly(number: number): string {
  return inFull(Number(number.toPrecision(12)));
}

/** "1 failure", "61 failures". */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${inFull(number)} ${number === 1 ? one : many}`;
}

/** "saltmere", "saltmere and ostrel", "saltmere, ostrel and vennick". */
export function allOf(names: string[]): string {
  const last = names.at(-1) ?? "";
  return names.length < 2 ? last : `${names.slice(0, -1).join(", ")} and ${last}`;
}

/** A share in whole percent, near none and all with a decimal, and never rounded to either: "9 %", "1.4 %", "99.9 %". */
export function wholePercent(share: number): string {
  if (share <= 0 || share >= 1 || (share >= 0.02 && share <= 0.98)) return `${Math.round(100 * share)} %`;
  return `${Math.min(Math.max(Math.round(1000 * share) / 10, 0.1), 99.9)} %`;
}

/** "10 %". */
export function percent(share: number): string {
  return `${inWords(100 * share)} %`;
}
