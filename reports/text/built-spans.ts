import type { BenchSplit } from "../../src/questions/bench-answer.ts";
import type { Built } from "../charts/comebacks-by-built.ts";

/** Builds a month, in the median, under which quarters say more: of nine none, the upper limit is 30 %. */
const FEW = 10;

export type BuiltOf = "month" | "quarter";

/**
 * How many come back by when they were built: by month, or by quarter where months have few builds. Those of which nothing is known yet are left out.
 * @param splits - by month and by quarter, and whatever else
 */
export function builtSpans(splits: BenchSplit[]): { of: BuiltOf; built: Built[]; unknown: number } {
  const of =
    medianOf(splits.filter(({ by }) => by === "month").map(({ builds }) => builds)) < FEW ? "quarter" : "month";
  const own = splits.filter(({ by }) => by === of);
  const built = own.flatMap(({ value, builds, comebacks: { estimate, ...share } }) => {
    const span = spanOf(value);
    return estimate === null || span === null ? [] : [{ name: value, ...span, builds, share: { ...share, estimate } }];
  });
  return { of, built, unknown: own.length - built.length };
}

function medianOf(values: number[]): number {
  const sorted = values.toSorted((one, two) => one - two);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

/** The month or quarter of a day: "2024-03", "2024-Q1". */
export function spanNamed(day: string, of: BuiltOf): string {
  const month = day.slice(0, 7);
  return of === "month" ? month : `${day.slice(0, 4)}-Q${Math.ceil(Number(month.slice(5)) / 3)}`;
}

/** The days of "2024-03" or "2024-Q1". */
function spanOf(name: string): { from: number; to: number } | null {
  const found = /^(\d{4})-(?:Q(\d)|(\d\d))$/.exec(name);
  if (found === null) return null;
  const [, year, quarter, month] = found;
  const first = quarter === undefined ? Number(month) - 1 : 3 * (Number(quarter) - 1);
  return {
    from: Date.UTC(Number(year), first, 1),
    to: Date.UTC(Number(year), first + (quarter === undefined ? 1 : 3), 1),
  };
}
