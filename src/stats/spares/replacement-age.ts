import { costRateAt } from "./cost-rate.ts";
import { lifeToAge } from "./life-to-age.ts";
import {
  checkCosts,
  NEVER_REACHED,
  NO_DEARER,
  type NoReplacementAge,
  type ReplacementAge,
  type ReplacementCosts,
} from "./replacement-costs.ts";
import { checkWeibullLife } from "./survival.ts";

/**
 * The age for a planned replacement of Weibull lives that costs least in the long run, where h(T) integral of S from 0 to T - F(T) =
 * planned / (unplanned - planned). There is one only where the hazard rises.
 * @param life - shape and scale of the lives
 * @param costs - of a planned and an unplanned replacement
 * @returns the age and what it costs; or why run to failure is best
 * @throws RangeError if an argument lies outside its range
 * @see R. E. Barlow & F. Proschan, Mathematical Theory of Reliability, 1965, ch. 4
 * @example
 * const found = replacementAge({ shape: 2, scale: 1 }, { planned: 1, unplanned: 5 });
 * if (found.found) found.age;
 */
export function replacementAge(
  life: { shape: number; scale: number },
  costs: ReplacementCosts,
): ReplacementAge | NoReplacementAge {
  checkWeibullLife(life);
  checkCosts(costs);
  const { shape, scale } = life;
  const { planned, unplanned } = costs;
  if (scale === Number.POSITIVE_INFINITY) return { found: false, reason: "the life never ends by itself" };
  if (shape <= 1) return { found: false, reason: "the shape is not above 1: the hazard does not rise with age" };
  if (unplanned <= planned) return { found: false, reason: NO_DEARER };
  const age = bestAge(shape, planned / (unplanned - planned));
  if (age === null) return { found: false, reason: NEVER_REACHED };
  const [rate, runToFailureRate] = [
    costRateAt(life, costs, age * scale),
    costRateAt(life, costs, Number.POSITIVE_INFINITY),
  ];
  return {
    found: true,
    age: age * scale,
    costRate: rate,
    runToFailureRate,
    saving: 1 - rate / runToFailureRate,
    plannedShare: Math.exp(-(age ** shape)),
    meanInterval: scale * lifeToAge(shape, age),
  };
}

/** Share of lives that must reach the age for it to matter. */
const SOME = 1e-9;

/** Root of the condition, which rises with age, in scales; by halving on the log scale. */
function bestAge(shape: number, ratio: number): number | null {
  const oldest = Math.log(-Math.log(SOME)) / shape;
  const excess = (log: number) => {
    const age = Math.exp(log);
    return shape * age ** (shape - 1) * lifeToAge(shape, age) + Math.expm1(-(age ** shape)) - ratio;
  };
  if (!(excess(oldest) > 0)) return null;
  let [low, high] = [oldest - 1, oldest];
  while (excess(low) > 0) low -= 2 * (high - low);
  for (let step = 0; step < 200 && high - low > 1e-14; step++) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) high = middle;
    else low = middle;
  }
  return Math.exp((low + high) / 2);
}
