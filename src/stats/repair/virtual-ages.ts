import type { Gaps } from "./gather-gaps.ts";

/**
 * What a repair takes back. "I": of the time since the repair before it alone, so that the virtual age is q times the age;
 * "II": of all that had gathered up to then, v = q (virtual age before it + time since).
 */
export type RepairModel = "I" | "II";

/** Virtual ages of all gaps at one degree of repair, where they begin to be watched and where they end, with derivatives by the degree. */
export class VirtualAges {
  /** Where watching begins; 0 for a unit new and watched from the start. */
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** First and second derivative by the degree, of both ends alike. */
  readonly slope: Float64Array;
  readonly bend: Float64Array;
  /** log(to / largest). */
  readonly logTo: Float64Array;
  /** log(to / from), Infinity from 0. */
  readonly logGain: Float64Array;
  /** The largest end: the unit of time of what is reckoned from these, so that powers of ages neither vanish nor overflow. */
  largest = 0;
  #degree = Number.NaN;
  readonly #gaps: Gaps;
  readonly #model: RepairModel;

  constructor(gaps: Gaps, model: RepairModel) {
    const size = gaps.age.length;
    this.#gaps = gaps;
    this.#model = model;
    this.from = new Float64Array(size);
    this.to = new Float64Array(size);
    this.slope = new Float64Array(size);
    this.bend = new Float64Array(size);
    this.logTo = new Float64Array(size);
    this.logGain = new Float64Array(size);
  }

  /** Reckons all anew, unless they are those of this degree already. */
  setDegree(degree: number): void {
    if (degree === this.#degree) return;
    this.#degree = degree;
    if (this.#model === "I") this.#startsOfFirstKind(degree);
    else this.#startsOfSecondKind(degree);
    this.#ends();
  }

  #startsOfFirstKind(degree: number): void {
    const { age } = this.#gaps;
    for (let gap = 0; gap < age.length; gap++) {
      this.from[gap] = degree * age[gap]!;
      this.slope[gap] = age[gap]!;
    }
  }

  #startsOfSecondKind(degree: number): void {
    const { age, length } = this.#gaps;
    let before = 0;
    let slope = 0;
    let bend = 0;
    for (let gap = 0; gap < age.length; gap++) {
      if (age[gap] === 0) before = slope = bend = 0;
      this.from[gap] = degree * before;
      this.slope[gap] = before + degree * slope;
      this.bend[gap] = 2 * slope + degree * bend;
      bend = this.bend[gap]!;
      slope = this.slope[gap]!;
      before = this.from[gap]! + length[gap]!;
    }
  }

  #ends(): void {
    const { length, unwatched } = this.#gaps;
    let largest = 0;
    for (let gap = 0; gap < length.length; gap++) {
      const to = this.from[gap]! + length[gap]!;
      this.from[gap]! += unwatched[gap]!;
      this.to[gap] = to;
      if (to > largest) largest = to;
    }
    this.largest = largest;
    for (let gap = 0; gap < length.length; gap++) {
      const to = this.to[gap]!;
      this.logTo[gap] = Math.log(to / largest);
      this.logGain[gap] =
        this.from[gap] === 0 ? Number.POSITIVE_INFINITY : -Math.log1p((unwatched[gap]! - length[gap]!) / to);
    }
  }
}
