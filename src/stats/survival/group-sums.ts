import type { LabelledTally } from "../labelled-tally.ts";
import type { StratumEnds } from "./stratum-ends.ts";

/** Sums over failure ages that a log-rank test is made of, to which a stratum adds its own. */
export type GroupSums = {
  lives: Float64Array;
  failures: Float64Array;
  observed: Float64Array;
  expected: Float64Array;
  /** Minus the covariance of observed - expected of two groups; 0 on the diagonal. */
  shared: Float64Array[];
};

/**
 * Adds the failures of one stratum: at each failure age, d of the n at risk fail, in all groups, and each group expects d by its
 * share of n; minus the covariance is d (n - d) / (n - 1) times the product of two shares.
 */
export function sumOverFailures(stratum: StratumEnds, groups: number, rho: number, sums: GroupSums): void {
  const risk = new GroupRisk(stratum, groups);
  risk.addLives(sums);
  let survival = 1;
  while (risk.next()) {
    const { atRisk, total, failed } = risk;
    if (failed === 0) continue;
    const weight = survival ** rho;
    risk.addObserved(sums.observed, weight);
    const expected = (weight * failed) / total;
    for (let group = 0; group < groups; group++) sums.expected[group]! += expected * atRisk[group]!;
    if (total > failed)
      addShared(sums.shared, atRisk, (weight * weight * failed * (total - failed)) / (total - 1), total);
    survival *= (total - failed) / total;
  }
}

function addShared(shared: Float64Array[], atRisk: Float64Array, scale: number, total: number): void {
  for (let one = 1; one < atRisk.length; one++) {
    if (atRisk[one] === 0) continue;
    const row = shared[one]!;
    const share = (scale * (atRisk[one]! / total)) / total;
    for (let other = 0; other < one; other++) {
      const common = share * atRisk[other]!;
      row[other]! += common;
      shared[other]![one]! += common;
    }
  }
}

/** Lives at risk by group, age after age at which lives end. */
class GroupRisk {
  /** Just before the age, by group and in all. */
  readonly atRisk: Float64Array;
  total = 0;
  /** Failures at the age, all groups together. */
  failed = 0;
  readonly #ends: LabelledTally;
  readonly #entries: LabelledTally;
  #end = -1;
  #entry = 0;

  constructor({ ends, entries }: StratumEnds, groups: number) {
    this.atRisk = new Float64Array(groups);
    this.#ends = ends;
    this.#entries = entries ?? NONE;
    if (entries === null) this.#change(ends, 0, ends.label.length, 1);
    else if (entries.value[0] === 0) this.#enter();
  }

  /** Goes to the next age at which lives end; false when there is none. */
  next(): boolean {
    const { value, start, label, count } = this.#ends;
    if (this.#end >= 0) this.#change(this.#ends, start[this.#end]!, start[this.#end + 1]!, -1);
    const time = value[++this.#end];
    if (time === undefined) return false;
    while (this.#entry < this.#entries.value.length && this.#entries.value[this.#entry]! < time) this.#enter();
    this.failed = 0;
    for (let cell = start[this.#end]!; cell < start[this.#end + 1]!; cell++)
      this.failed += (label[cell]! & 1) * count[cell]!;
    return true;
  }

  addLives({ lives, failures }: GroupSums): void {
    const { label, count } = this.#ends;
    for (let cell = 0; cell < label.length; cell++) {
      lives[label[cell]! >> 1]! += count[cell]!;
      failures[label[cell]! >> 1]! += (label[cell]! & 1) * count[cell]!;
    }
  }

  /** Adds the failures at the age to those of their groups, each with a weight. */
  addObserved(observed: Float64Array, weight: number): void {
    const { start, label, count } = this.#ends;
    for (let cell = start[this.#end]!; cell < start[this.#end + 1]!; cell++) {
      if ((label[cell]! & 1) === 1) observed[label[cell]! >> 1]! += weight * count[cell]!;
    }
  }

  #enter(): void {
    this.#change(this.#entries, this.#entries.start[this.#entry]!, this.#entries.start[this.#entry + 1]!, 1);
    this.#entry++;
  }

  #change({ label, count }: LabelledTally, from: number, to: number, sign: 1 | -1): void {
    for (let cell = from; cell < to; cell++) {
      this.atRisk[label[cell]! >> 1]! += sign * count[cell]!;
      this.total += sign * count[cell]!;
    }
  }
}

const NONE: LabelledTally = {
  value: new Float64Array(0),
  start: new Uint32Array(1),
  label: new Int32Array(0),
  count: new Float64Array(0),
};
