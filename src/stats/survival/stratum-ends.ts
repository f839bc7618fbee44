import { checkLives } from "../check-lives.ts";
import { type LabelledTally, labelledTally } from "../labelled-tally.ts";
import type { Lives } from "../lives.ts";
import { wholeEnds } from "../whole-ends.ts";
import { refuseUnseen } from "./refuse-unseen.ts";
import { type GroupedLives, type Groups, livesByStratum } from "./strata.ts";

/** The lives of a stratum counted by age and label, which is 2 * group + failed. */
export type StratumEnds = {
  /** By the age at their end. */
  ends: LabelledTally;
  /** By the age at which they came under observation, as unfailed; null where all did from the start. */
  entries: LabelledTally | null;
};

/**
 * Checks and counts the lives of each stratum; of all together where there are none.
 * @throws RangeError for columns that are not lives, a group or stratum that is no number of one, a late entry that is not before its end
 */
export function endsByStratum(lives: Lives, groups: Groups): StratumEnds[] {
  const ends = groups.stratum === undefined ? wholeEnds(lives, groups) : null;
  if (ends !== null) return [{ ends, entries: null }];
  checkLives(lives);
  return livesByStratum(lives, groups).map((stratum) => endsAndEntries(stratum, groups.groups));
}

function endsAndEntries({ time, failed, entry, count, group }: GroupedLives, groups: number): StratumEnds {
  const labels = 2 * groups;
  const ends = labelledTally({ values: time, label: group.map((one, life) => 2 * one + failed[life]!), labels, count });
  if (entry === undefined) return { ends, entries: null };
  refuseUnseen(time, entry);
  return { ends, entries: labelledTally({ values: entry, label: group.map((one) => 2 * one), labels, count }) };
}
