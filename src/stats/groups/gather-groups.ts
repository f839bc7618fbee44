import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { gatherTerms } from "../weibull/gather-lives.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { lengthRefusal, refusalOf } from "../weibull/refusal.ts";

/** The lives of one group, as they are or gathered. */
export type Group = Lives | IntervalLives | GatheredLives;

/** A group's lives, and why no fit of its own is possible; or why the group can't be used at all. */
export type GatheredGroup =
  | { usable: true; lives: GatheredLives; noOwnFit: string | null }
  | { usable: false; reason: string; failures: number };

/**
 * Gathers each group, also one whose lives alone would not do.
 * @throws RangeError for columns that are not lives
 */
export function gatherGroup(group: Group): GatheredGroup {
  if ("typicalLog" in group) return { usable: true, lives: group, noOwnFit: null };
  const columns = checkedLives(group);
  const lives = gatherTerms(columns);
  const { failures } = lives;
  const length = lengthRefusal(columns);
  if (length !== null) return { usable: false, reason: length, failures };
  if (lives.z.length + lives.highZ.length === 0) return { usable: false, reason: "there are no lives", failures };
  return { usable: true, lives, noOwnFit: refusalOf(columns)?.refused ?? null };
}
