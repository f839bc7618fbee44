import { exposureAt, type LogWindows } from "./power-law-exposure.ts";

/**
 * The power at which the mean of log u over the exposure integral equals that over the events: the maximum of the likelihood, one alone since the
 * mean rises with the power. Newton on the log of the power, kept inside what is known to bracket it.
 * @param windows - stretches of observation
 * @param middle - mean log of the ages at events, below 0, above the integral's mean at power 0
 */
export function rootOfMean(windows: LogWindows, middle: number): number {
  let [low, high] = [0, Number.POSITIVE_INFINITY];
  // Exact for units watched from age 0 to one end.
  let power = -1 / middle;
  for (let step = 0; step < MOST_STEPS; step++) {
    const { mean, variance } = exposureAt(windows, power, middle);
    if (mean > 0) high = power;
    else low = power;
    const newton = power * Math.exp(Math.min(Math.max(-mean / (power * variance), -FURTHEST), FURTHEST));
    if (Math.abs(newton - power) <= SETTLED * power) return newton;
    power = newton > low && newton < high ? newton : between(low, high);
  }
  return power;
}

function between(low: number, high: number): number {
  if (high === Number.POSITIVE_INFINITY) return low * 8;
  return low === 0 ? high / 8 : Math.sqrt(low) * Math.sqrt(high);
}

const MOST_STEPS = 200;
/** Share of the power; the error left after such a step is its square, or rounding. */
const SETTLED = 1e-11;
/** A step on the log scale. */
const FURTHEST = 3;
