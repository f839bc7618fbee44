import type { BestMeans } from "./best-means.ts";
import type { EffectPrior } from "./effect-density.ts";
import { type Pair, raised, type Symmetric } from "./pair.ts";

/**
 * What the other groups say of one group's effects at given spreads: normal with the means that they alone point to, and with
 * both the spread between groups and the uncertainty of those means. Taken from the whole's score and information by the
 * means, less the group's own part, as if quadratic.
 * With L the others' information, x their score and S the spreads' variances, the precision is (S + L^-1)^-1 = (L S + 1)^-1 L and
 * the tilt (L S + 1)^-1 x: nothing is divided by L, which is 0 where there are no others.
 */
export function othersPrior({ mean, spread, information, marginal }: BestMeans, group: number): EffectPrior {
  const { score, hessian } = marginal.parts[group]!;
  const others = raised(
    [information[0] + hessian[0], information[1] + hessian[1], information[2] + hessian[2]],
    LEAST_INFORMATION,
  );
  const x: Pair = [marginal.score[0]! - score[0], marginal.score[1]! - score[1]];
  const [s, t] = [spread[0] ** 2, spread[1] ** 2];
  // M = L S + 1, by rows; the precision is M^-1 L, which is symmetric.
  const [a, b, c] = others;
  const [p, q, r, w] = [a * s + 1, b * t, b * s, c * t + 1];
  const d = p * w - q * r;
  const precision: Symmetric = [(w * a - q * b) / d, (w * b - q * c) / d, (p * c - r * b) / d];
  return { centre: mean, precision, tilt: [(w * x[0] - q * x[1]) / d, (p * x[1] - r * x[0]) / d] };
}

/** A standard deviation of 1000 on the log scale: nothing is known. */
const LEAST_INFORMATION = 1e-6;
