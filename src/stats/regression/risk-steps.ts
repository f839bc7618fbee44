import type { RiskOrder } from "./risk-order.ts";

/** Steps back in time, each to an age with failures in a stratum, in columns. */
export type RiskSteps = {
  /** Places of lives that come to be at risk: those that outlast the age from `first`, its failures from `firstFailed`, up to `end`. */
  first: Uint32Array;
  firstFailed: Uint32Array;
  end: Uint32Array;
  /** Weights of the failures together. */
  failing: Float64Array;
  /** Terms that the tie is made of: the number of failures by Efron's way, 1 by Breslow's. */
  terms: Float64Array;
  /** Failures, each as often as its count says. */
  failures: Float64Array;
  time: Float64Array;
  stratum: Int32Array;
};

/** More terms than this in a tie are put together in so many. */
const MOST_TERMS = 1e6;

/** Puts sets together in steps; failures of no weight are none. */
export function riskSteps(
  { start, failed, time, stratum }: RiskOrder,
  weight: Float64Array | null,
  count: Float64Array | null,
  efron: boolean,
): RiskSteps {
  const size = time.length;
  const columns: RiskSteps = {
    first: new Uint32Array(size),
    firstFailed: new Uint32Array(size),
    end: new Uint32Array(size),
    failing: new Float64Array(size),
    terms: new Float64Array(size),
    failures: new Float64Array(size),
    time: new Float64Array(size),
    stratum: new Int32Array(size),
  };
  let step = 0;
  let from = 0;
  for (let set = 0; set < size; set++) {
    if (set > 0 && stratum[set] !== stratum[set - 1]) from = start[set]!;
    const together = failed[set] === 0 ? 0 : sumOf(weight, start[set]!, start[set + 1]!);
    if (!(together > 0)) continue;
    columns.first[step] = from;
    columns.firstFailed[step] = start[set]!;
    columns.end[step] = from = start[set + 1]!;
    columns.failing[step] = together;
    columns.failures[step] = countOf(weight, count, start[set]!, from);
    columns.terms[step] = termsOf(columns.failures[step]!, efron);
    columns.time[step] = time[set]!;
    columns.stratum[step++] = stratum[set]!;
  }
  return cut(columns, step);
}

function cut(columns: RiskSteps, size: number): RiskSteps {
  return {
    first: columns.first.slice(0, size),
    firstFailed: columns.firstFailed.slice(0, size),
    end: columns.end.slice(0, size),
    failing: columns.failing.slice(0, size),
    terms: columns.terms.slice(0, size),
    failures: columns.failures.slice(0, size),
    time: columns.time.slice(0, size),
    stratum: columns.stratum.slice(0, size),
  };
}

/** Terms of a tie of so many failures. */
export function termsOf(failures: number, efron: boolean): number {
  return efron ? Math.min(Math.max(Math.round(failures), 1), MOST_TERMS) : 1;
}

function sumOf(column: Float64Array | null, from: number, to: number): number {
  if (column === null) return to - from;
  let sum = 0;
  for (let at = from; at < to; at++) sum += column[at]!;
  return sum;
}

/** Failures of no weight don't count. */
function countOf(weight: Float64Array | null, count: Float64Array | null, from: number, to: number): number {
  if (weight === null) return to - from;
  let sum = 0;
  for (let at = from; at < to; at++) if (weight[at]! > 0) sum += count?.[at] ?? 1;
  return sum;
}

/** Step at which the life of each place comes to be at risk; -1 for none. */
export function stepByPlace({ first, end }: Pick<RiskSteps, "first" | "end">, size: number): Int32Array {
  const stepAt = new Int32Array(size).fill(-1);
  for (let step = 0; step < first.length; step++) stepAt.fill(step, first[step], end[step]);
  return stepAt;
}
