import { normalHalfWidth } from "../level.ts";
import { orderOf } from "../order.ts";
import { checkEvents, countedRows, type RecurrentEvents } from "./recurrent-events.ts";

/** A step of the mean cumulative function, at an age with events. */
export type MeanCountStep = {
  /** Age of the step. */
  time: number;
  /** Units under observation at `time`. */
  underObservation: number;
  /** Events at `time`, over all units. */
  events: number;
  /** Mean number of events per unit up to `time`; under late entry, of a unit watched all along. */
  estimate: number;
  /** Lawless and Nadeau's robust standard error (infinitesimal jackknife over units). */
  se: number;
  /** Nelson's, from unbiased variances; null from the first age with one unit under observation, or where the variance comes out negative. */
  seNelson: number | null;
  /** Lower limit, normal on the log scale from `se`; null where `se` is 0. */
  low: number | null;
  /** Upper limit, likewise. */
  high: number | null;
};

/**
 * Nelson's mean cumulative function: at each age the events there over the units under observation there, added up,
 * with two standard errors. Units may enter and leave at any age; several events of a unit at one age all count.
 * @param events - by unit and age, and from when to when each unit was watched
 * @param options - `level`: confidence level, 0 < level < 1
 * @returns a step for each age with events, by age
 * @throws RangeError for columns of unequal length, an unknown unit, an event outside its unit's observation, or a level out of range
 * @see W. Nelson, Recurrent Events Data Analysis, 2003; J. F. Lawless & C. Nadeau, Technometrics 37 (1995) 158-168
 * @example meanCumulativeFunction(histories, { level: 0.95 });
 */
export function meanCumulativeFunction(events: RecurrentEvents, { level }: { level: number }): MeanCountStep[] {
  const z = normalHalfWidth(level);
  checkEvents(events);
  const watch = new Watch(events);
  const rows = countedRows(events);
  const steps: MeanCountStep[] = [];
  let estimate = 0;
  for (let from = 0, to = 0; from < rows.length; from = to) {
    const time = events.time[rows[from]!]!;
    while (to < rows.length && events.time[rows[to]!] === time) to++;
    watch.advance(time);
    const { underObservation } = watch;
    estimate += (to - from) / underObservation;
    watch.count(rows.subarray(from, to));
    const se = watch.robustError();
    const reach = Math.exp((z * se) / estimate);
    const limits = se > 0 ? { low: estimate / reach, high: estimate * reach } : { low: null, high: null };
    steps.push({ time, underObservation, events: to - from, estimate, se, seNelson: watch.nelsonError(), ...limits });
  }
  return steps;
}

/** A variance smaller than this share of the squares it is left over from is rounding. */
const ROUNDING = 1e-13;

/**
 * Running sums over the units under observation, from which both variances follow without going through the units at each age.
 * With r = 1 / units under observation, A a unit's own events each times the r of its age, and B the sum of events * r * r
 * (from the unit's entry on), the robust variance is the sum over all units of (A - B)^2; each unit's C = A + B at entry is kept.
 */
class Watch {
  underObservation = 0;
  readonly #own: Float64Array;
  readonly #atEntry: Float64Array;
  readonly #events: RecurrentEvents;
  /** Of the age that is being counted: its units, and of each unit how many events. */
  readonly #units: Int32Array;
  readonly #numbers: Int32Array;
  readonly #entering: Uint32Array;
  readonly #leaving: Uint32Array;
  #nextIn = 0;
  #nextOut = 0;
  #common = 0;
  #sumOwn = 0;
  #sum = 0;
  #squares = 0;
  #gone = 0;
  #nelson: number | null = 0;

  constructor(events: RecurrentEvents) {
    this.#events = events;
    this.#own = new Float64Array(events.end.length);
    this.#atEntry = new Float64Array(events.end.length);
    this.#units = new Int32Array(events.end.length);
    this.#numbers = new Int32Array(events.end.length);
    this.#entering = orderOf(events.entry);
    this.#leaving = orderOf(events.end);
  }

  /** Takes in the units that have entered before `time`, and lets go those that ended before it. */
  advance(time: number): void {
    const { entry, end } = this.#events;
    while (
      this.#nextIn < entry.length &&
      (entry[this.#entering[this.#nextIn]!]! < time || entry[this.#entering[this.#nextIn]!] === 0)
    ) {
      this.#enter(this.#entering[this.#nextIn++]!);
    }
    while (this.#nextOut < end.length && end[this.#leaving[this.#nextOut]!]! < time)
      this.#leave(this.#leaving[this.#nextOut++]!);
  }

  #enter(unit: number): void {
    this.underObservation++;
    this.#atEntry[unit] = this.#common;
    this.#sum += this.#common;
    this.#squares += this.#common ** 2;
  }

  #leave(unit: number): void {
    this.underObservation--;
    const own = this.#own[unit]!;
    const carried = own + this.#atEntry[unit]!;
    this.#gone += (carried - this.#common) ** 2;
    this.#sumOwn -= own;
    this.#sum -= carried;
    this.#squares -= carried ** 2;
  }

  /** Counts the events of the present age, by their rows. */
  count(rows: Uint32Array): void {
    const rate = 1 / this.underObservation;
    const mean = rows.length * rate;
    const units = this.#unitsOf(rows);
    this.#addNelson(units, mean);
    for (let at = 0; at < units; at++) {
      const unit = this.#units[at]!;
      const number = this.#numbers[unit]!;
      this.#numbers[unit] = 0;
      const carried = this.#own[unit]! + this.#atEntry[unit]!;
      const added = number * rate;
      this.#squares += (2 * carried + added) * added;
      this.#sum += added;
      this.#sumOwn += added;
      this.#own[unit]! += added;
    }
    this.#common += mean * rate;
  }

  /** Lists the units that rows are of, each once, and counts its rows. */
  #unitsOf(rows: Uint32Array): number {
    let units = 0;
    for (let at = 0; at < rows.length; at++) {
      const unit = this.#events.unit[rows[at]!]!;
      if (this.#numbers[unit]!++ === 0) this.#units[units++] = unit;
    }
    return units;
  }

  /** Nelson's variance grows by the sample variance of the counts here over their number, and twice their covariances with earlier ones. */
  #addNelson(units: number, mean: number): void {
    const size = this.underObservation;
    if (size < 2) this.#nelson = null;
    if (this.#nelson === null) return;
    let here = 0;
    let earlier = 0;
    for (let at = 0; at < units; at++) {
      const unit = this.#units[at]!;
      const number = this.#numbers[unit]!;
      here += number * (number - mean);
      earlier += number * this.#own[unit]!;
    }
    this.#nelson += (here / size + 2 * (earlier - mean * this.#sumOwn)) / (size - 1);
  }

  robustError(): number {
    const present = this.#squares - 2 * this.#common * this.#sum + this.underObservation * this.#common ** 2;
    const variance = this.#gone + present;
    return variance > ROUNDING * (this.#gone + this.#squares) ? Math.sqrt(variance) : 0;
  }

  nelsonError(): number | null {
    return this.#nelson === null || this.#nelson < 0 ? null : Math.sqrt(this.#nelson);
  }
}
