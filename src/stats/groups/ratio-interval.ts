import { profileEnd, type RootProfile } from "../fit/profile-end.ts";
import type { Interval } from "../fit/quantity.ts";
import { likelihoodCutOff } from "../level.ts";

/** Profile-likelihood interval of a ratio from its profile on the log scale. */
export function ratioInterval(profile: RootProfile, level: number): Interval {
  const wanted = Math.sqrt(likelihoodCutOff(level));
  const [low, high] = [profileEnd(profile, -1, wanted), profileEnd(profile, 1, wanted)];
  const estimate = Math.exp(profile.middle);
  const limits = { low: low === null ? null : Math.exp(low), high: high === null ? null : Math.exp(high) };
  const lacks = [low === null ? "lower" : "", high === null ? "upper" : ""].filter((side) => side !== "");
  if (lacks.length === 0) return { estimate, ...limits };
  const reason = `no ${lacks.join(" and no ")} limit: the likelihood stays within the cut-off however far the ratio goes`;
  return { estimate, ...limits, reason };
}
