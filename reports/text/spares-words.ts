import type { LeadTime, SparesPart } from "../../src/questions/spares-answer.ts";
import { oddsWords } from "../../src/questions/spares-sentence.ts";
import { count, exactly, inWords } from "../../src/questions/wording.ts";

/** A lead time in whole weeks, rounded up: "16 (12 to 26)". */
export function weeksWords({ days, low, high }: LeadTime): string {
  const figure = weeks(days);
  return low === null || high === null ? figure : `${figure} (${weeks(low)} to ${weeks(high)})`;
}

function weeks(days: number): string {
  return inWords(Math.ceil(days / 7));
}

/** When to order a part: "now", a day, or that it is not in sight. */
export function orderByWords({ orderNow, orderBy }: SparesPart): string | null {
  if (orderNow === null) return null;
  return orderNow ? "now" : (orderBy ?? "not in sight");
}

/** Chance of a shortage before the next order arrives: "1 in 20". */
export function shortageWords({ noShortage }: SparesPart): string | null {
  return noShortage === null ? null : oddsWords(1 - noShortage);
}

/** Why to order, or not, in one line. */
export function whyOrder(part: SparesPart): string {
  const { position, reorderPoint, orderNow } = part;
  if (position === null || reorderPoint === null || orderNow === null) return part.reasons.join("; ");
  const stands = `${exactly(position)} on hand or due in time, ${exactly(reorderPoint)} wanted`;
  return [stands, ...(orderNow ? rounding(part) : []), ...slowWords(part), ...part.reasons].join("; ");
}

function rounding({ position, reorderPoint, orderQuantity }: SparesPart): string[] {
  const lacking = Math.ceil(reorderPoint! - position!);
  return orderQuantity! > lacking ? [`${exactly(lacking)} rounded up to whole packs or the smallest order`] : [];
}

function slowWords({ slowMover, worthHolding }: SparesPart): string[] {
  if (!slowMover || worthHolding === null) return [];
  const { without, holding, worth } = worthHolding;
  return [
    `used once a year or less: ${worth ? "hold one" : "one need not be held"}, a year without it costs ${inWords(without)}, holding it ${inWords(holding)}`,
  ];
}

/** "3 parts, 1 without a price". */
export function orderedWords(now: SparesPart[]): string {
  const priceless = now.filter(({ cost }) => cost === null).length;
  return `${count(now.length, "part")}${priceless === 0 ? "" : `, ${priceless} without a price`}`;
}
