import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { effectDensity } from "./effect-density.ts";
import { integrateEffects } from "./effect-integral.ts";
import type { Pair, Symmetric } from "./pair.ts";

/** Groups' log scales are normal about `mean[0]` with sd `spread[0]`, their log shapes about `mean[1]` with sd `spread[1]`, independently. */
export type Population = { mean: Pair; spread: Pair };

/** Log of the marginal likelihood with derivatives by (mean 1, mean 2, log spread 1, log spread 2). */
export type Marginal = {
  value: number;
  score: Float64Array;
  /** 4 x 4, by rows. */
  hessian: Float64Array;
  /** Each group's part: its log-likelihood, and its derivatives by the two means. */
  parts: { value: number; score: Pair; hessian: Symmetric }[];
};

/** A group's lives, and the log shape where its integral's top was last found. */
export type MarginalGroup = { lives: GatheredLives; top: number };

/**
 * Marginal likelihood of groups of lives, each group's own log scale and log shape integrated out; its derivatives are moments
 * of the groups' effects given their lives (Fisher's and Louis's identities).
 * @param groups - each `top` is moved to where it was found
 * @returns null where a group's integral can't be had
 * @see Louis 1982, J. R. Statist. Soc. B 44, 226
 */
export function marginalLikelihood(groups: MarginalGroup[], { mean, spread }: Population): Marginal | null {
  const precisions: Pair = [spread[0] ** -2, spread[1] ** -2];
  const prior = { centre: mean, precision: [precisions[0], 0, precisions[1]] as Symmetric, tilt: [0, 0] as Pair };
  const factor = -Math.log(2 * Math.PI * spread[0] * spread[1]);
  const total: Marginal = { value: 0, score: new Float64Array(4), hessian: new Float64Array(16), parts: [] };
  for (const group of groups) {
    const found = integrateEffects(effectDensity(group.lives, prior), group.top);
    if (found === null) return null;
    group.top = found.top;
    const value = found.logIntegral + factor;
    total.value += value;
    total.parts.push({ value, ...addGroup(total, found.moments, precisions) });
  }
  return total;
}

/** Powers of a and b in the scores by the two means and the two log spreads. */
const POWERS = [
  [1, 0],
  [0, 1],
  [2, 0],
  [0, 2],
] as const;

/**
 * The scores given the effects are a / s1^2, b / s2^2, a^2 / s1^2 - 1, b^2 / s2^2 - 1; a second derivative is the mean of that
 * given the effects plus the covariance of the scores.
 */
function addGroup({ score, hessian }: Marginal, moments: Float64Array, precisions: Pair) {
  const moment = (i: number, j: number) => moments[5 * i + j]!;
  const part = new Float64Array(16);
  const means = POWERS.map(([i, j], at) => moment(i, j) * precisions[at % 2]!);
  for (const [row, [i, j]] of POWERS.entries()) {
    for (const [column, [k, l]] of POWERS.entries()) {
      const both = moment(i + k, j + l) * precisions[row % 2]! * precisions[column % 2]!;
      part[4 * row + column] = both - means[row]! * means[column]! + givenEffects(row, column, means, precisions);
    }
    score[row]! += means[row]! - (row < 2 ? 0 : 1);
  }
  for (let at = 0; at < 16; at++) hessian[at]! += part[at]!;
  return {
    score: [means[0]!, means[1]!] as Pair,
    hessian: [part[0]!, part[1]!, part[5]!] as Symmetric,
  };
}

/** Mean of the second derivative given the effects; those of log scale and of log shape don't meet. */
function givenEffects(row: number, column: number, means: number[], precisions: Pair): number {
  if (row % 2 !== column % 2) return 0;
  if (row === column) return row < 2 ? -precisions[row]! : -2 * means[row]!;
  return -2 * means[row % 2]!;
}
