import type { SparesPart } from "./spares-answer.ts";
import { allOf } from "./wording.ts";

/** What runs short soonest first; what nothing can be said of last. */
export function byUrgency(parts: SparesPart[]): SparesPart[] {
  return parts.toSorted(
    (one, two) => urgency(one) - urgency(two) || byDay(one, two) || one.part.localeCompare(two.part, "en"),
  );
}

/** Parts that may run short before what is on order arrives, though enough is on its way: no order of today helps them. */
export function shortBeforeArrival(parts: SparesPart[], service: number): string[] {
  return parts
    .filter(({ orderNow, noShortage }) => orderNow === false && noShortage !== null && noShortage < service)
    .map(({ part }) => part);
}

/** Parts named in a warning. */
const NAMED = 5;

/** "QB-22, QS-65 and 4 more". */
export function namedParts(parts: string[]): string {
  const more = parts.length - NAMED;
  return more > 0 ? `${parts.slice(0, NAMED).join(", ")} and ${more} more` : allOf(parts);
}

function urgency({ orderNow, noShortage }: SparesPart): number {
  if (orderNow === null) return 2;
  return orderNow ? (noShortage ?? 0) : 1;
}

function byDay({ orderBy: one }: SparesPart, { orderBy: two }: SparesPart): number {
  return (one ?? "9999").localeCompare(two ?? "9999");
}
