import type { GatheredLives } from "../weibull/gathered-lives.ts";
import type { GatheredGroup } from "./gather-groups.ts";

/**
 * A group as pooling may use it. Several failures at one age that no life outlasts make the likelihood rise without end with the
 * shape, faster than any spread of shapes can hold it: such a group is left out.
 */
export function forPooling(group: GatheredGroup): GatheredGroup {
  if (!group.usable || group.noOwnFit === null || !endsAtOneAge(group.lives)) return group;
  const reason = "all failures are at one age and no life is longer: the likelihood rises without end with the shape";
  return { usable: false, reason, failures: group.lives.failures };
}

/** Ages are measured from the mean log age at failure, which is 0 where all failures are at one age. */
function endsAtOneAge({ failures, exact, spread, z, weight }: GatheredLives): boolean {
  if (failures < 2 || exact < failures || spread > ROUNDING) return false;
  return z.every((position, term) => position <= ROUNDING || weight[term]! <= 0);
}

const ROUNDING = 1e-9;
