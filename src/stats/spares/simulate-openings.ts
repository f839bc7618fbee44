import { checkedWhole } from "./check-chances.ts";
import { checkOpeningFleet, type OpeningFleet, type SlotLaws } from "./opening-fleet.ts";
import { type Tally, unitRunner } from "./unit-runner.ts";

/** How long and how often to look ahead. */
export type OpeningsAhead = {
  /** Months ahead, from 1 on. */
  months: number;
  /** How many draws, from 1 on. */
  draws: number;
  /** Any whole number. */
  seed: number;
  /** Number of the first draw, so that several threads share them: 0 where not given. */
  from?: number;
};

/** Openings and pieces by month, summed over the units of each group of results. */
export type Openings = {
  /** Groups of results. */
  groups: number;
  draws: number;
  slots: number;
  months: number;
  /** Openings, groups x draws x months, the months of a draw together. */
  openings: Int32Array;
  /** Times that each slot restarted, groups x draws x slots x months. */
  pieces: Int32Array;
  /** Draws of a unit that were broken off after a thousand openings: laws that no unit has. */
  stopped: number;
};

/**
 * Simulates units that open as wholes: a unit opens at the first failure of any of its slots or at a planned date; the slot that failed
 * restarts, each other one with its chance. Lives are Weibull, the present ones given the slots' ages; hours become months by the unit's
 * running rate, which is drawn too. What a unit meets in a draw depends on seed, draw and unit alone, so that draws, and units, may be
 * shared out among threads and put together again.
 * @param fleet - units with ages, rates, planned openings and when they leave
 * @param laws - laws of the slots, one set or many, and their restart chances
 * @param ahead - months, draws, seed
 * @returns counts by draw and month
 * @throws RangeError for a fleet or laws that don't fit together
 * @see D. R. Cox, Renewal Theory, 1962, ch. 2 and 3; Meeker & Escobar, Statistical Methods for Reliability Data, ch. 12 (prediction of future failures)
 * @example
 * const fleet = { slots: 2, group: Int32Array.of(0), age: Float64Array.of(4000, 1500), rate: Float64Array.of(350) };
 * const laws = { shape: Float64Array.of(1.6, 1.1), scale: Float64Array.of(20_000, 9000), restart: Float64Array.of(1, 0.3) };
 * simulateOpenings(fleet, laws, { months: 36, draws: 2000, seed: 1 });
 */
export function simulateOpenings(
  fleet: OpeningFleet,
  laws: SlotLaws,
  { months, draws, seed, from = 0 }: OpeningsAhead,
): Openings {
  checkedWhole("a number of months", months, 1);
  checkedWhole("a number of draws", draws, 1);
  checkedWhole("a first draw", from, 0);
  if (!Number.isSafeInteger(seed)) throw new RangeError(`Cannot open units: the seed must be whole, found ${seed}`);
  const { units, sets } = checkOpeningFleet(fleet, laws);
  const { slots, group, countedIn = group } = fleet;
  const groups = countedIn.reduce((most, one) => Math.max(most, one + 1), 0);
  const tally: Tally = {
    openings: new Int32Array(groups * draws * months),
    pieces: new Int32Array(groups * draws * slots * months),
    stopped: 0,
  };
  const runner = unitRunner(fleet, laws, { months, seed });
  for (let draw = 0; draw < draws; draw++) {
    runner.take((from + draw) % sets);
    for (let unit = 0; unit < units; unit++) {
      const at = (countedIn[unit]! * draws + draw) * months;
      runner.run(unit, from + draw, tally, at, at * slots);
    }
  }
  return { groups, draws, slots, months, openings: tally.openings, pieces: tally.pieces, stopped: tally.stopped };
}
