import { fitWeibull, type WeibullFit } from "../weibull/fit.ts";
import type { GatheredGroup } from "./gather-groups.ts";

/** A group's fit by itself, or why there is none. */
export function ownFit(group: GatheredGroup): WeibullFit {
  if (!group.usable) return { converged: false, reason: group.reason, failures: group.failures };
  const { lives, noOwnFit } = group;
  return noOwnFit === null ? fitWeibull(lives) : { converged: false, reason: noOwnFit, failures: lives.failures };
}
