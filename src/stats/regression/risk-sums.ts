import { expByTable } from "../table-exp.ts";
import { linearTerms } from "./linear-terms.ts";
import { addMoments } from "./moment-sums.ts";
import type { RiskSets } from "./risk-sets.ts";

/**
 * Sums over lives at risk and over those that fail, step by step back in time: of the relative hazards r = weight * exp(b'x + offset), of r x
 * and of r x x' (x_i x_j for j <= i), behind each other in one column.
 */
export class RiskSums {
  readonly atRisk: Float64Array;
  /** Left at 0 where a tie has one term, in which failures have no part of their own. */
  readonly failing: Float64Array;
  readonly #sets: RiskSets;
  readonly #b: Float64Array;
  readonly #atZero: boolean;
  /** Where lives leave, what they brought must go without a rest: sums in two parts, of which the first is rounded and the second is what that lost. */
  readonly #parts: Float64Array | null;

  constructor(sets: RiskSets, b: Float64Array) {
    const size = 1 + sets.width + (sets.width * (sets.width + 1)) / 2;
    this.atRisk = new Float64Array(size);
    this.failing = new Float64Array(size);
    this.#sets = sets;
    this.#b = b;
    this.#atZero = b.every((value) => value === 0);
    this.#parts = sets.leaving === null ? null : new Float64Array(2 * size);
  }

  /** Goes to a step; steps are to be gone through from the first on. */
  advance(step: number): void {
    const { first, firstFailed, end, terms, stratum } = this.#sets;
    const { atRisk, failing } = this;
    if (step > 0 && stratum[step] !== stratum[step - 1]) this.#begin();
    failing.fill(0);
    const apart = terms[step]! > 1;
    if (apart) this.#add(failing, firstFailed[step]!, end[step]!);
    if (this.#parts !== null) {
      this.#exchange(step, this.#parts);
      return;
    }
    this.#add(atRisk, first[step]!, apart ? firstFailed[step]! : end[step]!);
    if (!apart) return;
    for (let at = 0; at < atRisk.length; at++) atRisk[at]! += failing[at]!;
  }

  #begin(): void {
    this.atRisk.fill(0);
    this.#parts?.fill(0);
  }

  #add(sums: Float64Array, from: number, to: number): void {
    const { width, x } = this.#sets;
    for (let start = from; start < to; start += BLOCK) {
      const rows = Math.min(BLOCK, to - start);
      this.#hazards(start, rows);
      addMoments(sums, hazard, x, start * width, rows, width);
    }
  }

  /** Fills `hazard` with the relative hazards of some places. */
  #hazards(start: number, rows: number): void {
    const { width, x, weight, offset } = this.#sets;
    const b = this.#b;
    if (this.#atZero && offset === null) {
      hazard.fill(1, 0, rows);
    } else {
      linearTerms(hazard, b, x, start * width, rows);
      if (offset !== null) addTo(hazard, offset, start, rows);
      for (let row = 0; row < rows; row++) hazard[row] = expByTable(hazard[row]!);
    }
    if (weight === null) return;
    for (let row = 0; row < rows; row++) hazard[row]! *= weight[start + row]!;
  }

  #exchange(step: number, parts: Float64Array): void {
    const { width, x, first, end, leaving, leaveFrom, leaveEnd } = this.#sets;
    for (let start = first[step]!; start < end[step]!; start += BLOCK) {
      const rows = Math.min(BLOCK, end[step]! - start);
      this.#hazards(start, rows);
      for (let row = 0; row < rows; row++) addExactly(parts, hazard[row]!, x, (start + row) * width, width);
    }
    for (let at = leaveFrom[step]!; at < leaveEnd[step]!; at++) {
      this.#hazards(leaving![at]!, 1);
      addExactly(parts, -hazard[0]!, x, leaving![at]! * width, width);
    }
    const { atRisk } = this;
    for (let at = 0; at < atRisk.length; at++) atRisk[at] = parts[2 * at]! + parts[2 * at + 1]!;
  }
}

/** Rows that are added together: so few that they stay in the cache. */
const BLOCK = 512;
const hazard = new Float64Array(BLOCK);

function addTo(sums: Float64Array, values: Float64Array, from: number, rows: number): void {
  for (let row = 0; row < rows; row++) sums[row]! += values[from + row]!;
}

/** Adds one row's moments to sums in two parts each, behind each other. */
function addExactly(parts: Float64Array, weight: number, x: Float64Array, from: number, width: number): void {
  addOne(parts, 0, weight);
  let product = width + 1;
  for (let one = 0; one < width; one++) {
    const own = weight * x[from + one]!;
    addOne(parts, one + 1, own);
    for (let other = 0; other <= one; other++) addOne(parts, product++, own * x[from + other]!);
  }
}

/** Adds to the first part, and what that rounds off to the second. @see D. E. Knuth, The Art of Computer Programming 2, section 4.2.2 */
function addOne(parts: Float64Array, at: number, value: number): void {
  const sum = parts[2 * at]!;
  const whole = sum + value;
  const added = whole - sum;
  parts[2 * at + 1]! += sum - (whole - added) + (value - added);
  parts[2 * at] = whole;
}
