import type { ConvergedWeibull, WeibullFit } from "../weibull/fit.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { type AtShape, noScaleReason } from "./best-level.ts";
import { type GatheredGroup, type Group, gatherGroup } from "./gather-groups.ts";
import { maximiseShape, type SharedShape } from "./maximise-shape.ts";

/** Weibull distributions of one shape, of greatest likelihood together. */
export type ConvergedCommonShape = {
  converged: true;
  /** The one shape, no unit. */
  shape: number;
  /** Of log shape. */
  variance: number;
  /** Of all groups that took part: of the ages themselves, no constant dropped. */
  logLikelihood: number;
  /** Steps that the search took. */
  iterations: number;
  /** In all groups that took part. */
  failures: number;
  /**
   * In the order of the groups: the common shape with the group's own scale, its log-likelihood and covariance; or why
   * the group took no part. Scales of two groups vary together through the shape alone: the covariance of their logs is
   * the product of their covariances with log shape over the variance of log shape.
   */
  groups: WeibullFit[];
};

/** The distributions, or why there are none and how many failures there are. */
export type CommonShapeFit = ConvergedCommonShape | { converged: false; reason: string; failures: number };

/** Variance of log shape from which the shape is as good as unknown: limits a factor of e^20 away. */
const UNKNOWN_SHAPE = 100;

/**
 * Weibull distributions of one shape and a scale per group, by greatest likelihood. A group with one failure takes part;
 * one without failures has no finite scale and is left out. Some group must have two failures, not all at one age.
 * @param groups - lives of each group, all in one unit
 * @returns the fit, or why there is none
 * @throws RangeError for columns that are not lives
 * @see Lawless, Statistical Models and Methods for Lifetime Data, ch. 5; Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8
 * @example
 * fitCommonShape([
 *   { time: Float64Array.of(54, 187, 216), failed: Uint8Array.of(1, 1, 0) },
 *   { time: Float64Array.of(90, 400), failed: Uint8Array.of(1, 1) },
 * ]);
 */
export function fitCommonShape(groups: Group[]): CommonShapeFit {
  return commonShapeOf(groups.map(gatherGroup));
}

/** The same, of groups gathered already. */
export function commonShapeOf(groups: GatheredGroup[]): CommonShapeFit {
  const left = groups.map(leftOut);
  const parts = groups.flatMap((group, at) => (group.usable && left[at] === null ? [group] : []));
  const failures = parts.reduce((sum, { lives }) => sum + lives.failures, 0);
  if (!parts.some(({ noOwnFit }) => noOwnFit === null)) {
    return { converged: false, reason: "no group has two failures at different ages", failures };
  }
  const lives = parts.map((part) => part.lives);
  const maximum = maximiseShape(lives);
  if (!maximum.found) return { converged: false, reason: maximum.reason, failures };
  const { at, iterations } = maximum;
  const variance = -1 / at.second;
  if (!(variance < UNKNOWN_SHAPE)) {
    return {
      converged: false,
      reason: "the likelihood is flat at its maximum: the shape is as good as unknown",
      failures,
    };
  }
  const fits = lives.map((part, index) => groupFit(part, at.groups[index]!, at, iterations));
  return {
    converged: true,
    shape: at.shape,
    variance,
    logLikelihood: at.value,
    iterations,
    failures,
    groups: left.map((out) => (out === null ? (fits.shift() ?? unreachable()) : { converged: false, ...out })),
  };
}

function unreachable(): never {
  throw new TypeError("Cannot give a group its fit: fewer fits than groups");
}

function leftOut(group: GatheredGroup): { reason: string; failures: number } | null {
  if (!group.usable) return { reason: group.reason, failures: group.failures };
  const reason = noScaleReason(group.lives);
  return reason === null ? null : { reason, failures: group.lives.failures };
}

/** log scale = typicalLog - level / shape, and the level follows the shape by -ls / ll. */
function groupFit(
  { typicalLog, failures }: GatheredLives,
  { level, likelihood }: AtShape,
  { shape, second }: SharedShape,
  iterations: number,
): ConvergedWeibull {
  const { value, ll, ls } = likelihood;
  const variance = -1 / second;
  const byLogShape = ls / ll + level / shape;
  const own = -1 / (ll * shape * shape);
  const across = byLogShape * variance;
  return {
    converged: true,
    distribution: "weibull",
    shape,
    scale: Math.exp(typicalLog - level / shape),
    logLikelihood: value,
    covariance: [
      [own + byLogShape * across, across],
      [across, variance],
    ],
    iterations,
    failures,
  };
}
