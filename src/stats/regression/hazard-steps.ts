import type { RiskSets } from "./risk-sets.ts";
import { RiskSums } from "./risk-sums.ts";
import { emptyTie, sumTie } from "./tie-sums.ts";

/**
 * By how much the baseline hazard rises at each step, and what covariates the lives at risk have there. A life that fails in a tie of n is at
 * risk in a part of it only, so that its own rises are less by those `tied`.
 */
export type HazardSteps = {
  /** Rise of the cumulative hazard of a life with all scaled covariates 0. */
  rise: Float64Array;
  tied: Float64Array;
  /** The rise divided by the sum of hazards at risk: the rise's variance. */
  variance: Float64Array;
  /** Mean covariates of lives at risk, over the terms of the tie; `width` numbers a step. */
  mean: Float64Array;
  /** Rise times mean covariates, term by term. */
  drift: Float64Array;
  tiedDrift: Float64Array;
};

/** Reckons the steps at scaled coefficients. */
export function hazardSteps(sets: RiskSets, b: Float64Array): HazardSteps {
  const { width, terms, failing } = sets;
  const size = terms.length;
  const numbers = (each: number) => new Float64Array(size * each);
  const steps: HazardSteps = {
    rise: numbers(1),
    tied: numbers(1),
    variance: numbers(1),
    mean: numbers(width),
    drift: numbers(width),
    tiedDrift: numbers(width),
  };
  const sums = new RiskSums(sets, b);
  const tie = emptyTie();
  for (let step = 0; step < size; step++) {
    sums.advance(step);
    sumTie(tie, terms[step]!, sums.atRisk[0]!, sums.failing[0]!);
    const share = failing[step]! / terms[step]!;
    steps.rise[step] = share * tie.a0;
    steps.tied[step] = share * tie.a1;
    steps.variance[step] = share * tie.b0;
    for (let one = 0; one < width; one++) {
      const [s, d] = [sums.atRisk[one + 1]!, sums.failing[one + 1]!];
      steps.mean[step * width + one] = (s * tie.a0 - d * tie.a1) / terms[step]!;
      steps.drift[step * width + one] = share * (s * tie.b0 - d * tie.b1);
      steps.tiedDrift[step * width + one] = share * (s * tie.b1 - d * tie.b2);
    }
  }
  return steps;
}

/**
 * Sums of `width` numbers a step over the steps of its stratum up to its age.
 * @param column - by step, of which the last of a stratum is its earliest
 */
export function summedUp(column: Float64Array, width: number, stratum: Int32Array): Float64Array {
  const sums = column.slice();
  for (let step = stratum.length - 2; step >= 0; step--) {
    if (stratum[step] !== stratum[step + 1]) continue;
    for (let one = 0; one < width; one++) sums[step * width + one]! += sums[(step + 1) * width + one]!;
  }
  return sums;
}
