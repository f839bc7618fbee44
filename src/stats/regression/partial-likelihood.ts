import type { CrossSums } from "./cross-sums.ts";
import type { RiskSets } from "./risk-sets.ts";
import { RiskSums } from "./risk-sums.ts";
import { emptyTie, sumTie, type TieSums } from "./tie-sums.ts";

/** Sums whose squares are larger, or whose inverse squares are, would leave curvatures of which digits are lost: such a place is none. */
const LARGEST = 1e290;

/**
 * Partial likelihood of scaled coefficients: of each tie of n failures of weight W together, the sum of weight * (b'x + offset) less
 * W / n times the sum of log s_l over the tie's terms.
 * @see D. R. Cox, Journal of the Royal Statistical Society B 34 (1972) 187-220; Therneau & Grambsch, Modeling Survival Data, ch. 3
 */
export function partialLikelihood(sets: RiskSets, b: Float64Array): CrossSums {
  const { width, terms, failing } = sets;
  const sums = new RiskSums(sets, b);
  const slope = sets.failed.slice();
  const curves = new Float64Array((width * (width + 1)) / 2);
  const tie = emptyTie();
  let value = sets.failedOffset;
  for (let one = 0; one < width; one++) value += b[one]! * slope[one]!;
  for (let step = 0; step < terms.length; step++) {
    sums.advance(step);
    const { atRisk, failing: failed } = sums;
    const share = failing[step]! / terms[step]!;
    if (share === 0) continue;
    sumTie(tie, terms[step]!, atRisk[0]!, failed[0]!);
    value -= tie.b0 > 1 / LARGEST && tie.b0 < LARGEST ? share * tie.log : Number.POSITIVE_INFINITY;
    addSlope(slope, share, atRisk, failed, tie);
    addCurves(curves, share, atRisk, failed, tie, width);
  }
  if (Number.isNaN(value)) value = Number.NEGATIVE_INFINITY;
  return { value, slope, bend: unpacked(curves, width, -1) };
}

/** Takes off the mean covariates over the terms of a tie. */
export function addSlope(
  slope: Float64Array,
  share: number,
  atRisk: Float64Array,
  failed: Float64Array,
  { a0, a1 }: TieSums,
): void {
  for (let one = 0; one < slope.length; one++) slope[one]! -= share * (atRisk[one + 1]! * a0 - failed[one + 1]! * a1);
}

/** Adds the covariances of the covariates over the terms of a tie, each packed by rows to the diagonal. */
export function addCurves(
  curves: Float64Array,
  share: number,
  atRisk: Float64Array,
  failed: Float64Array,
  { a0, a1, b0, b1, b2 }: TieSums,
  width: number,
): void {
  let at = 0;
  if (a1 === 0) {
    for (let one = 0; one < width; one++) {
      const s = share * b0 * atRisk[one + 1]!;
      for (let other = 0; other <= one; other++, at++) {
        curves[at]! += share * a0 * atRisk[1 + width + at]! - s * atRisk[other + 1]!;
      }
    }
    return;
  }
  for (let one = 0; one < width; one++) {
    const s = atRisk[one + 1]!;
    const d = failed[one + 1]!;
    for (let other = 0; other <= one; other++, at++) {
      const s2 = atRisk[other + 1]!;
      const d2 = failed[other + 1]!;
      const products = atRisk[1 + width + at]! * a0 - failed[1 + width + at]! * a1;
      curves[at]! += share * (products - (s * s2 * b0 - (s * d2 + d * s2) * b1 + d * d2 * b2));
    }
  }
}

/** The whole of a symmetric matrix packed by rows to the diagonal, times a number. */
export function unpacked(packed: Float64Array, width: number, times: number): Float64Array {
  const whole = new Float64Array(width * width);
  let at = 0;
  for (let one = 0; one < width; one++) {
    for (let other = 0; other <= one; other++, at++) {
      whole[one * width + other] = whole[other * width + one] = times * packed[at]!;
    }
  }
  return whole;
}
