import type { Clock } from "./answer.ts";
import type { Estimate } from "./estimate.ts";

let grouped: Intl.NumberFormat | undefined;

/** A figure for people: three significant digits, thousands grouped. */
export function inWords(value: number): string {
  // Not made before it is needed: the first one takes as long as a whole small command.
  grouped ??= new Intl.NumberFormat("en-US", { maximumSignificantDigits: 3 });
  return grouped.format(value);
}

/** "5,910 h (4,720 to 7,130)"; a missing end is said in words. */
export function withLimits({ estimate, low, high, reason }: Estimate, unit: string): string {
  if (estimate === null) return `not known (${reason ?? "no estimate"})`;
  const figure = `${inWords(estimate)}${unit}`;
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

/** "1 failure", "61 failures". */
export function count(number: number, one: string, many = `${one}s`): string {
  // Below a thousand there is nothing to group, and no number format to make.
  const figure = number < 1000 ? String(number) : number.toLocaleString("en-US");
  return `${figure} ${number === 1 ? one : many}`;
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
