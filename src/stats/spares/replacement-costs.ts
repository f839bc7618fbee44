/** What a replacement costs, in any one currency. */
export type ReplacementCosts = {
  /** At a planned age, above 0. */
  planned: number;
  /** After a failure, above 0. */
  unplanned: number;
};

/** @throws RangeError for a cost that is not above 0 */
export function checkCosts({ planned, unplanned }: ReplacementCosts): void {
  for (const cost of [planned, unplanned]) {
    if (!(cost > 0 && cost < Number.POSITIVE_INFINITY)) {
      throw new RangeError(`Cannot weigh costs: they must be above 0, found ${planned} and ${unplanned}`);
    }
  }
}

/** Replacement at an age, or at failure where that comes first. */
export type ReplacementAge = {
  found: true;
  /** Best age for a planned replacement, in the unit of the lives. */
  age: number;
  /** Cost a unit of time there. */
  costRate: number;
  /** Cost a unit of time of replacing at failure alone. */
  runToFailureRate: number;
  /** Share of the run-to-failure cost that is saved, 0 to 1. */
  saving: number;
  /** Share of replacements that are planned ones. */
  plannedShare: number;
  /** Mean time between replacements. */
  meanInterval: number;
};

/** Why no age is best: replace at failure. */
export type NoReplacementAge = { found: false; reason: string };

export const NO_DEARER = "an unplanned replacement costs no more than a planned one";
export const NEVER_REACHED = "the best age is one that next to no life reaches: nothing is saved";
