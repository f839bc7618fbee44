import type { SparesPart } from "./spares-answer.ts";

/** What runs short soonest first; what nothing can be said of last. */
export function byUrgency(parts: SparesPart[]): SparesPart[] {
  return parts.toSorted(
    (one, two) => urgency(one) - urgency(two) || byDay(one, two) || one.part.localeCompare(two.part, "en"),
  );
}

function urgency({ orderNow, noShortage }: SparesPart): number {
  if (orderNow === null) return 2;
  return orderNow ? (noShortage ?? 0) : 1;
}

function byDay({ orderBy: one }: SparesPart, { orderBy: two }: SparesPart): number {
  return (one ?? "9999").localeCompare(two ?? "9999");
}
