import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { streamOf } from "../random/stream.ts";
import { checkedWhole } from "./check-chances.ts";
import { checkWeibullLife } from "./survival.ts";

/** Weibull laws that might be true, one a draw. */
export type WeibullDraws = { shape: Float64Array; scale: Float64Array };

/** Draws, and how many were beyond all sense. */
export type DrawnWeibulls = {
  draws: WeibullDraws;
  /** Drawn again because the shape was no shape of a life, or the scale a factor of 1,000 from the estimate. */
  redrawn: number;
};

/** Shapes of lives lie between these; what is drawn beyond says that the fit knows next to nothing. */
const [LEAST_SHAPE, MOST_SHAPE] = [0.1, 30];
const FARTHEST_SCALE = 1000;
const MOST_REDRAWS = 100;

/**
 * Weibull laws drawn from the asymptotic distribution of a fit: log scale and log shape are normal about the estimate with its covariance.
 * A draw with a shape outside 0.1 to 30, or a scale over 1,000 times off the estimate, is drawn again, up to 100 times, and then
 * put on the limit: one such would open units a thousand times a month. The draw `n` of a seed is the same whatever the number of draws.
 * @param fit - as `fitWeibull` gives it: covariance of (log scale, log shape)
 * @param options - `draws`: how many, from 1 on; `seed`: any whole number; `from`: number of the first draw, 0 where not given
 * @returns shapes and scales
 * @throws RangeError for what is no law, no covariance or no number of draws
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 8 and 9
 * @example weibullDraws({ shape: 2, scale: 9000, covariance: [[0.004, 0.001], [0.001, 0.01]] }, { draws: 2000, seed: 1 });
 */
export function weibullDraws(
  fit: { shape: number; scale: number; covariance: [[number, number], [number, number]] },
  { draws, seed, from = 0 }: { draws: number; seed: number; from?: number },
): DrawnWeibulls {
  checkWeibullLife(fit);
  checkedWhole("a number of draws", draws, 1);
  if (!Number.isSafeInteger(seed)) throw new RangeError(`Cannot draw laws: the seed must be whole, found ${seed}`);
  const root = choleskyOf(fit.covariance);
  const found = { draws: { shape: new Float64Array(draws), scale: new Float64Array(draws) }, redrawn: 0 };
  for (let draw = 0; draw < draws; draw++) {
    const { random, attempts } = drawnSteps(streamOf(seed, from + draw), root, Math.log(fit.shape));
    found.redrawn += attempts;
    found.draws.scale[draw] = fit.scale * Math.exp(within(random.scale, Math.log(FARTHEST_SCALE)));
    found.draws.shape[draw] = Math.min(Math.max(fit.shape * Math.exp(random.shape), LEAST_SHAPE), MOST_SHAPE);
  }
  return found;
}

const within = (value: number, most: number) => Math.min(Math.max(value, -most), most);

/** Normal steps of log scale and log shape from the estimate, and how many pairs were set aside before. */
function drawnSteps(
  stream: { uniform(): number },
  [scaleRoot, across, shapeRoot]: [number, number, number],
  logShape: number,
): { random: { scale: number; shape: number }; attempts: number } {
  for (let attempts = 0; ; attempts++) {
    const [one, other] = [normal(stream.uniform()), normal(stream.uniform())];
    const random = { scale: scaleRoot * one, shape: across * one + shapeRoot * other };
    const shape = Math.exp(logShape + random.shape);
    const sensible = shape >= LEAST_SHAPE && shape <= MOST_SHAPE && Math.abs(random.scale) <= Math.log(FARTHEST_SCALE);
    if (sensible || attempts === MOST_REDRAWS) return { random, attempts };
  }
}

const normal = (uniform: number) => normalQuantile(Math.max(uniform, Number.EPSILON / 2), 0, 1);

/** Lower triangle: of log scale, across, of log shape. */
function choleskyOf([[scale, across], [other, shape]]: [[number, number], [number, number]]): [number, number, number] {
  const scaleRoot = Math.sqrt(scale);
  const beside = across === 0 ? 0 : across / scaleRoot;
  const left = shape - beside ** 2;
  const isCovariance =
    scale >= 0 && shape >= 0 && left >= -1e-12 * shape && across === other && Number.isFinite(scale + shape);
  if (!isCovariance) {
    throw new RangeError(`Cannot draw laws: [[${scale}, ${across}], [${other}, ${shape}]] is no covariance`);
  }
  return [scaleRoot, beside, Math.sqrt(Math.max(left, 0))];
}

/** @throws RangeError unless there is a draw, and each is a law */
export function checkDraws({ shape, scale }: WeibullDraws): void {
  if (shape.length === 0 || shape.length !== scale.length) {
    throw new RangeError(`Cannot use draws: found ${shape.length} shapes and ${scale.length} scales`);
  }
  for (let draw = 0; draw < shape.length; draw++) checkWeibullLife({ shape: shape[draw]!, scale: scale[draw]! });
}
