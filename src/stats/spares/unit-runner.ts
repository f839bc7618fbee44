import type { OpeningFleet, SlotLaws } from "./opening-fleet.ts";
import { plannedByUnit } from "./planned-openings.ts";
import { exponentialOf, logExponentialOf, normalOf } from "./quantile-table.ts";
import { quickExp } from "./quick-exp.ts";
import { nextWords, startWords } from "./words.ts";

/** Where openings are counted: by month, and for pieces by slot and month, of one group in one draw. */
export type Tally = {
  openings: Int32Array;
  pieces: Int32Array;
  /** Draws of a unit that were broken off. */
  stopped: number;
};

/** A unit that opens more often in one draw is not looked at further. */
const MOST_OPENINGS = 1000;

/** Runs units through the months of a draw. */
export type UnitRunner = {
  /** Takes the laws of a set. */
  take(set: number): void;
  /** Runs a unit and counts its openings from `openingsAt` and `piecesAt` on. */
  run(unit: number, draw: number, tally: Tally, openingsAt: number, piecesAt: number): void;
};

/** What a unit runs in the time ahead, in one draw. */
type Running = {
  monthsPerHour: number;
  /** Log of the hours ahead. */
  logHours: number;
  /** Log of the drawn rate over the middle one, or 0 where that is larger. */
  logFaster: number;
};

/**
 * A numeric kernel: all that a unit needs lies in arrays made once. Times are in months from now. A slot's next failure is drawn when the
 * slot starts, and stands until it restarts, whatever happens to others; one that is seen to lie beyond the time ahead is not reckoned out.
 */
export function unitRunner(
  fleet: OpeningFleet,
  laws: SlotLaws,
  { months, seed }: { months: number; seed: number },
): UnitRunner {
  const { slots, group, age, rate, rateSpread, leaves, delay, key } = fleet;
  const { start: plannedStart, month: plannedMonth } = plannedByUnit(group.length, fleet.planned);
  const size = laws.restart.length;
  const logAge = age.map(Math.log);
  const logEndAge = age.map((hours, at) => Math.log(hours + months * rate[Math.floor(at / slots)]!));
  const logMiddle = rate.map((hours) => Math.log(hours * months));
  const restarts = laws.restarts ?? laws.restart;
  const restart = laws.restart.map((chance) => chance * ALWAYS);
  const isPartial = new Uint8Array(size / slots);
  for (let at = 0; at < restarts.length; at++) {
    if (restarts[at]! > 0 && restarts[at]! < 1) isPartial[Math.floor((at % size) / slots)] = 1;
  }
  const shape = new Float64Array(size);
  const inverse = new Float64Array(size);
  const logScale = new Float64Array(size);
  const state = new Int32Array(4);
  const words = new Int32Array(2 * slots + 1);
  const next = new Float64Array(slots + 1).fill(Number.POSITIVE_INFINITY);
  const running: Running = { monthsPerHour: 0, logHours: 0, logFaster: 0 };

  const take = (set: number) => {
    for (let at = 0; at < size; at++) {
      shape[at] = laws.shape[set * size + at]!;
      inverse[at] = 1 / shape[at]!;
      logScale[at] = Math.log(laws.scale[set * size + at]!);
      if (laws.restarts !== undefined) restart[at] = laws.restarts[set * size + at]! * ALWAYS;
    }
  };

  /** Hours that a new slot lasts; Infinity where that is beyond the time ahead. */
  const newLife = (law: number, word: number): number => {
    const log = logScale[law]! + inverse[law]! * logExponentialOf(word);
    return log < running.logHours ? quickExp(log) : Number.POSITIVE_INFINITY;
  };

  /** Writes when a slot that has run for an age fails first, likewise. A call that gave the number back would cost more than reckoning it. */
  const writeFirst = (unit: number, slot: number): void => {
    const law = group[unit]! * slots + slot;
    const cell = unit * slots + slot;
    const word = words[slot]!;
    const scale = logScale[law]!;
    const hours = age[cell]!;
    next[slot] = Number.POSITIVE_INFINITY;
    if (scale === Number.POSITIVE_INFINITY) return;
    if (hours === 0) {
      next[slot] = newLife(law, word) * running.monthsPerHour;
      return;
    }
    const further = exponentialOf(word);
    const atEnd = quickExp(shape[law]! * (logEndAge[cell]! + running.logFaster - scale));
    if (further > atEnd) return;
    const hazard = further + quickExp(shape[law]! * (logAge[cell]! - scale));
    if (hazard > atEnd) return;
    const end = quickExp(scale + inverse[law]! * Math.log(hazard));
    next[slot] = Math.max(end - hours, 0) * running.monthsPerHour;
  };

  /** The slot that fails next, or the number of slots where none does in the time ahead. */
  const soonest = (): number => {
    let first = slots;
    for (let slot = 0; slot < slots; slot++) if (next[slot]! < next[first]!) first = slot;
    return first;
  };

  const isRestarted = (law: number, slot: number): boolean => {
    const chance = restart[law]!;
    return chance === ALWAYS || (chance > 0 && words[slots + slot]! >>> 0 < chance);
  };

  /** Restarts the slots of a unit that opens at a time. */
  const reopen = (from: number, failed: number, at: number, tally: Tally, cell: number): void => {
    nextWords(state, words, isPartial[from / slots] === 1 ? 2 * slots : slots);
    for (let slot = 0; slot < slots; slot++) {
      if (slot !== failed && !isRestarted(from + slot, slot)) continue;
      tally.pieces[cell + slot * months]!++;
      next[slot] = at + newLife(from + slot, words[slot]!) * running.monthsPerHour;
    }
  };

  /** Draws the unit's rate, and from that when each of its slots fails first. */
  const begin = (unit: number, draw: number): void => {
    startWords(state, seed, draw, key === undefined ? unit : key[unit]!);
    nextWords(state, words, slots + 1);
    const spread = rateSpread === undefined ? 0 : rateSpread[unit]!;
    const logRatio = spread === 0 ? 0 : spread * normalOf(words[slots]!);
    running.monthsPerHour = 1 / (rate[unit]! * quickExp(logRatio));
    running.logHours = logMiddle[unit]! + logRatio;
    running.logFaster = Math.max(logRatio, 0);
    for (let slot = 0; slot < slots; slot++) writeFirst(unit, slot);
  };

  // biome-ignore lint/complexity/noExcessiveCognitiveComplexity: the numeric kernel's inner loop, 20 million times a fleet
  const run = (unit: number, draw: number, tally: Tally, openingsAt: number, piecesAt: number): void => {
    const late = delay === undefined ? 0 : delay[unit]!;
    const until = Math.min(months - late, leaves === undefined ? months : leaves[unit]!);
    let plan = plannedStart[unit]!;
    if (until <= 0 || (rate[unit] === 0 && plannedMonth[plan] === Number.POSITIVE_INFINITY)) return;
    begin(unit, draw);
    for (let opened = 0; opened < MOST_OPENINGS; opened++) {
      const failing = soonest();
      const isPlanned = plannedMonth[plan]! <= next[failing]!;
      const at = isPlanned ? plannedMonth[plan++]! : next[failing]!;
      if (at >= until) return;
      const month = Math.min(Math.floor(at + late), months - 1);
      tally.openings[openingsAt + month]!++;
      reopen(group[unit]! * slots, isPlanned ? slots : failing, at, tally, piecesAt + month);
    }
    tally.stopped++;
  };
  return { take, run };
}

/** A chance of 1 in 2^32nds. */
const ALWAYS = 2 ** 32;
