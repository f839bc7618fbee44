import { orderOf } from "../order.ts";
import type { RepairHistories } from "./repair-histories.ts";

/** Units and repairs that a degree of repair rests on. */
export type RepairCounts = {
  /** Units whose whole past is known and that were watched for some time. */
  units: number;
  /** Repairs of those while they were watched, those at one age of a unit as one. */
  repairs: number;
  /** Those of them after a failure. */
  failures: number;
  /** Repairs that were taken as one with another at the same age of the unit, or with its start. */
  merged: number;
  /** Units left out: their past is not wholly known; they were not watched for any time. */
  leftOut: { unknownPast: number; notWatched: number };
};

/** Times from new to the first repair, from one repair to the next, and from the last one to the end, unit by unit and in order. */
export type Gaps = RepairCounts & {
  /** Age of the unit at the start of the gap; 0 is the start of the unit. */
  age: Float64Array;
  /** Above 0. */
  length: Float64Array;
  /** Part of the gap that had passed before the unit was watched. */
  unwatched: Float64Array;
  /** 1: ended by a failure while watched. */
  failed: Uint8Array;
  /** Failures while watched that came after a repair. */
  failedAgain: number;
};

/** Cuts checked histories into gaps. */
export function gatherGaps(histories: RepairHistories): Gaps {
  const { end, entry, fromNew } = histories;
  const { rows, first } = byUnit(histories);
  const collector = new Collector(rows.length + end.length);
  for (let unit = 0; unit < end.length; unit++) {
    if (fromNew[unit] !== 1) collector.leftOut.unknownPast++;
    else if (!(end[unit]! > entry[unit]!)) collector.leftOut.notWatched++;
    else collector.addUnit(histories, unit, rows.subarray(first[unit], first[unit + 1]));
  }
  return collector.gaps();
}

/** Row numbers by unit, within a unit by age, and where each unit's rows begin. */
function byUnit({ unit, time, end }: RepairHistories): { rows: Uint32Array; first: Uint32Array } {
  const first = new Uint32Array(end.length + 1);
  for (let row = 0; row < unit.length; row++) first[unit[row]! + 1]!++;
  for (let one = 0; one < end.length; one++) first[one + 1]! += first[one]!;
  const next = first.slice();
  const rows = new Uint32Array(unit.length);
  for (const row of orderOf(time)) rows[next[unit[row]!]!++] = row;
  return { rows, first };
}

class Collector {
  readonly leftOut = { unknownPast: 0, notWatched: 0 };
  readonly #age: Float64Array;
  readonly #length: Float64Array;
  readonly #unwatched: Float64Array;
  readonly #failed: Uint8Array;
  #size = 0;
  #units = 0;
  #repairs = 0;
  #merged = 0;

  constructor(most: number) {
    this.#age = new Float64Array(most);
    this.#length = new Float64Array(most);
    this.#unwatched = new Float64Array(most);
    this.#failed = new Uint8Array(most);
  }

  addUnit({ time, failed, entry, end }: RepairHistories, unit: number, rows: Uint32Array): void {
    this.#units++;
    const watchedFrom = entry[unit]!;
    let last = 0;
    for (const row of rows) {
      const at = time[row]!;
      const failure = at > watchedFrom && failed?.[row] !== 0 ? 1 : 0;
      if (at > last) this.#add(last, at, watchedFrom, failure);
      else this.#merge(failure);
      if (at > last && at > watchedFrom) this.#repairs++;
      last = at;
    }
    if (end[unit]! > last) this.#add(last, end[unit]!, watchedFrom, 0);
  }

  /** A repair where the last gap ended; one at age 0, where there is none of the unit, is never a failure while watched. */
  #merge(failure: number): void {
    this.#merged++;
    if (failure === 1) this.#failed[this.#size - 1] = 1;
  }

  #add(from: number, to: number, entry: number, failed: number): void {
    const gap = this.#size++;
    this.#age[gap] = from;
    this.#length[gap] = to - from;
    this.#unwatched[gap] = Math.min(Math.max(entry - from, 0), to - from);
    this.#failed[gap] = failed;
  }

  gaps(): Gaps {
    const age = this.#age.subarray(0, this.#size);
    const failed = this.#failed.subarray(0, this.#size);
    let failures = 0;
    let failedAgain = 0;
    for (let gap = 0; gap < this.#size; gap++) {
      failures += failed[gap]!;
      if (age[gap]! > 0) failedAgain += failed[gap]!;
    }
    return {
      age,
      length: this.#length.subarray(0, this.#size),
      unwatched: this.#unwatched.subarray(0, this.#size),
      failed,
      failures,
      failedAgain,
      units: this.#units,
      repairs: this.#repairs,
      merged: this.#merged,
      leftOut: this.leftOut,
    };
  }
}
