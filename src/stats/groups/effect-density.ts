import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { logLikelihood } from "../weibull/log-likelihood.ts";
import type { Pair, Symmetric } from "./pair.ts";

/**
 * What is known of a group's log scale u and log shape v before its lives: a normal density, up to a factor, written so that
 * it can be flat: exp(-d' precision d / 2 + tilt' d), d = (u, v) - centre.
 */
export type EffectPrior = { centre: Pair; precision: Symmetric; tilt: Pair };

/** Log density along u at one v, with its first and second derivative: written over at the next call. */
type Along = { value: number; first: number; second: number };

/** Likelihood times prior at one log shape, as a function of log scale alone: the exact terms are one sum for all log scales. */
export type EffectSlice = { at(u: number): Along };

/** Log of a group's likelihood times its prior. */
export type EffectDensity = {
  lives: GatheredLives;
  prior: EffectPrior;
  slice(v: number): EffectSlice;
  /** First and second derivative by v of the greatest value over u, at that best u. */
  ridge(u: number, v: number): { first: number; second: number };
};

export function effectDensity(lives: GatheredLives, prior: EffectPrior): EffectDensity {
  const within = lives.highZ.length === 0 ? null : intervalsOnly(lives);
  return {
    lives,
    prior,
    slice: (v) => sliceAt(lives, within, prior, v),
    ridge: (u, v) => ridgeAt(lives, prior, u, v),
  };
}

/** The same lives without their exact and right-censored terms. */
function intervalsOnly(lives: GatheredLives): GatheredLives {
  return { ...lives, exact: 0, exactSum: 0, z: new Float64Array(0), weight: new Float64Array(0) };
}

function sliceAt(lives: GatheredLives, within: GatheredLives | null, prior: EffectPrior, v: number): EffectSlice {
  const { exact, exactSum, typicalLog } = lives;
  const { centre, precision, tilt } = prior;
  const shape = Math.exp(v);
  const logHazard = logHazardSum(lives, shape);
  const fixed = exact * (v - typicalLog) + (shape - 1) * exactSum;
  const b = v - centre[1];
  const cross = precision[1] * b - tilt[0];
  const priorOfV = b * (tilt[1] - (precision[2] * b) / 2);
  const along: Along = { value: 0, first: 0, second: 0 };
  return {
    at: (u) => {
      const level = shape * (typicalLog - u);
      const hazard = Math.exp(level + logHazard);
      const a = u - centre[0];
      along.value = fixed + exact * level - hazard - a * ((precision[0] * a) / 2 + cross) + priorOfV;
      along.first = -shape * (exact - hazard) - precision[0] * a - cross;
      along.second = -shape * shape * hazard - precision[0];
      if (within === null) return along;
      const { value, l, ll } = logLikelihood(within, { level, shape });
      along.value += value;
      along.first -= shape * l;
      along.second += shape * shape * ll;
      return along;
    },
  };
}

/** log(sum of weight * exp(shape * z)), the largest exponent taken out first. */
function logHazardSum({ z, weight }: GatheredLives, shape: number): number {
  let largest = Number.NEGATIVE_INFINITY;
  for (let term = 0; term < z.length; term++) if (z[term]! > largest) largest = z[term]!;
  let sum = 0;
  for (let term = 0; term < z.length; term++) sum += weight[term]! * Math.exp(shape * (z[term]! - largest));
  return sum > 0 ? Math.log(sum) + shape * largest : Number.NEGATIVE_INFINITY;
}

/** level = shape (typicalLog - u): by v both level and shape change at their own size, by u the level alone by -shape. */
function ridgeAt(lives: GatheredLives, { centre, precision, tilt }: EffectPrior, u: number, v: number) {
  const shape = Math.exp(v);
  const level = shape * (lives.typicalLog - u);
  const { l, s, ll, ls, ss } = logLikelihood(lives, { level, shape });
  const [a, b] = [u - centre[0], v - centre[1]];
  const byV = level * l + shape * s;
  const first = byV - precision[1] * a - precision[2] * b + tilt[1];
  const uu = shape * shape * ll - precision[0];
  const uv = -shape * (l + level * ll + shape * ls) - precision[1];
  const vv = byV + level * level * ll + 2 * level * shape * ls + shape * shape * ss - precision[2];
  return { first, second: vv - (uv * uv) / uu };
}
