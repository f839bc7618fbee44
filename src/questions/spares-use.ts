import { countQuantile } from "../stats/spares/count-quantile.ts";
import { countsOfDraws } from "../stats/spares/counts-of-draws.ts";
import type { Estimate } from "./estimate.ts";
import type { MonthUse, SparesPart } from "./spares-answer.ts";
import { type Demand, PERIODS_A_MONTH, taken } from "./spares-demand.ts";

export const QUANTILES = [0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99];

/** Share of the inner range of a sum of months. */
const INNER = 0.8;

/** Mean of the draws, with the pieces between which use itself lies: whole ones. */
export function useEstimate(drawn: Int32Array, level: number): Estimate {
  let sum = 0;
  for (const pieces of drawn) sum += pieces;
  return { estimate: sum / drawn.length, ...central(countsOfDraws(drawn), level) };
}

/** The central range that holds a share of the draws at least. */
function central(counts: Float64Array, level: number): { low: number; high: number } {
  const tail = (1 - level) / 2;
  return { low: countQuantile(counts, tail), high: countQuantile(counts, 1 - tail) };
}

/** Quantiles of use over the horizon. */
export function useQuantiles(drawn: Int32Array): SparesPart["quantiles"] {
  const counts = countsOfDraws(drawn);
  return QUANTILES.map((p) => ({ p, pieces: countQuantile(counts, p) }));
}

/** Use month by month from the day after the as-of date on, and summed from then on. */
export function useByMonth(
  demand: Demand,
  { asOf, horizon, level }: { asOf: string; horizon: number; level: number },
): MonthUse[] {
  return Array.from({ length: horizon }, (_, month) => {
    const soFar = taken(demand, 0, (month + 1) * PERIODS_A_MONTH);
    const counts = countsOfDraws(soFar);
    return {
      month: monthName(asOf, month),
      expected: useEstimate(taken(demand, month * PERIODS_A_MONTH, (month + 1) * PERIODS_A_MONTH), level),
      soFar: useEstimate(soFar, level),
      median: countQuantile(counts, 0.5),
      inner: central(counts, INNER),
    };
  });
}

/** The calendar month that holds the middle of a month counted from a day on: "2025-01" from 2024-12-31. */
function monthName(asOf: string, month: number): string {
  return addDays(asOf, (month + 0.5) * (365.25 / 12)).slice(0, 7);
}

/** A day so many days after another, YYYY-MM-DD. */
export function addDays(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + Math.round(days) * 86_400_000).toISOString().slice(0, 10);
}
