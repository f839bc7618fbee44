import { individualsChart } from "../stats/measurements/individuals-chart.ts";
import { type RuleBreak, type RunRule, runRules } from "../stats/measurements/run-rules.ts";
import type { BenchChart, BenchPoint } from "./bench-answer.ts";
import type { BenchRows } from "./bench-rows.ts";

/** Readings that a chart has room for: the latest. */
const MOST_POINTS = 200;

/** Normal readings that nothing disturbs break one of the four rules once in so many (see `runRules`). */
const READINGS_A_BREAK = 92;

/** The readings in the order of building against limits of their own, and the run rules that they break. */
export function chartOf(rows: BenchRows, read: Int32Array, sides: BenchPoint["outside"][]): BenchChart {
  const values = Float64Array.from(read, (row) => rows.value[row]!);
  const found = individualsChart(values);
  const breaks = found.limits === null ? [] : runRules(values, found.limits);
  const broken = new Map<number, RunRule[]>();
  for (const { at, rule } of breaks) broken.set(at, [...(broken.get(at) ?? []), rule]);
  const from = Math.max(0, read.length - MOST_POINTS);
  return {
    limits: found.limits,
    reason: found.limits === null ? found.reason : null,
    points: Array.from(read.subarray(from), (row, after) => {
      const at = from + after;
      return {
        value: rows.value[row]!,
        on: rows.on[row] || null,
        unit: rows.unit[row] || null,
        card: rows.card[row]!,
        outside: sides[at]!,
        range: at === 0 ? null : Math.abs(values[at]! - values[at - 1]!),
        breaks: broken.get(at) ?? [],
      };
    }),
    readings: read.length,
    breaks: broken.size,
    breaksByChance: found.limits === null ? 0 : read.length / READINGS_A_BREAK,
    byRule: countedRules(breaks),
  };
}

function countedRules(breaks: RuleBreak[]): { rule: RunRule; readings: number }[] {
  const counted = new Map<RunRule, number>();
  for (const { rule } of breaks) counted.set(rule, (counted.get(rule) ?? 0) + 1);
  return [...counted].map(([rule, readings]) => ({ rule, readings }));
}
