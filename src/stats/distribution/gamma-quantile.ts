import logGamma from "@stdlib/math-base-special-gammaln";
import { type Curve, emptyTerms, type Family } from "./family.ts";
import { lognormal } from "./lognormal.ts";

/**
 * w by which the fraction p of a gamma distribution has failed, with its derivatives by e: Newton's method on the smaller tail, whose
 * log is concave in w, so that it closes in from one side wherever it starts.
 */
export function gammaQuantile({ logFailed, logSurvival }: Family, p: number, e: number): Curve {
  const tail = p <= 0.5 ? logFailed : logSurvival;
  const target = p <= 0.5 ? Math.log(p) : Math.log1p(-p);
  const at = emptyTerms();
  let value = firstGuess(p, Math.exp(e));
  for (let step = 0; step < MOST_STEPS; step++) {
    tail(value, e, at);
    const move = Math.min((target - at.value) / at.w, 1);
    value += move;
    if (Math.abs(move) <= 2 * Number.EPSILON * Math.abs(value)) break;
  }
  tail(value, e, at);
  const first = -at.e / at.w;
  return { value, e: first, ee: -(at.ee + 2 * at.we * first + at.ww * first * first) / at.w };
}

/** Rounding may keep the last steps from ending. */
const MOST_STEPS = 40;

/** Wilson and Hilferty's cube root of a normal quantile, or the power law of the far lower tail, whichever is larger. */
function firstGuess(p: number, a: number): number {
  const power = (Math.log(p) + logGamma(1 + a)) / a;
  const root = 1 - 1 / (9 * a) + lognormal.quantile(p, 0).value / (3 * Math.sqrt(a));
  return root > 0.1 ? Math.max(power, Math.log(a) + 3 * Math.log(root)) : power;
}
