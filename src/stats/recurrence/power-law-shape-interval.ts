import { profileEnd, type RootProfile } from "../fit/profile-end.ts";
import type { Interval } from "../fit/quantity.ts";
import { likelihoodCutOff, normalHalfWidth } from "../level.ts";
import { logScaleInterval } from "./log-scale-interval.ts";
import { exposureAt, type PowerExposure, type PowerLikelihood } from "./power-law-exposure.ts";

/** The powers whose greatest log-likelihood lies within half the chi-square quantile of the maximum. */
export function profileShapeInterval(
  beta: number,
  best: PowerExposure,
  likelihood: PowerLikelihood,
  level: number,
): Interval {
  const profile = rootProfile(beta, best, likelihood);
  const wanted = Math.sqrt(likelihoodCutOff(level));
  const [low, high] = ([-1, 1] as const).map((side) => {
    const end = profileEnd(profile, side, wanted);
    return end === null ? null : Math.exp(end);
  }) as [number | null, number | null];
  if (low !== null && high !== null) return { estimate: beta, low, high };
  const lacking = low === null ? (high === null ? "no lower and no upper" : "no lower") : "no upper";
  const reason = `${lacking} limit: the likelihood stays within the cut-off as far out as beta can be taken`;
  return { estimate: beta, low, high, reason };
}

function rootProfile(beta: number, best: PowerExposure, { windows, logs, events }: PowerLikelihood): RootProfile {
  const middle = logs / events;
  return {
    middle: Math.log(beta),
    error: 1 / (beta * Math.sqrt(events * best.variance)),
    walk: () => (value) => {
      const power = Math.exp(value);
      const { log, mean } = exposureAt(windows, power, middle);
      const lost = events * (log - best.log) - (power - beta) * logs;
      const root = Math.sqrt(Math.max(0, 2 * lost));
      return { root, slope: (events * mean * power) / root };
    },
  };
}

/** Normal on the log scale. */
export function waldShapeInterval(beta: number, varianceOfLog: number, level: number): Interval {
  return logScaleInterval(Math.log(beta), normalHalfWidth(level) * Math.sqrt(varianceOfLog));
}
