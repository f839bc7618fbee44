import { RisingCounts } from "./rising-counts.ts";
import type { RiskSets } from "./risk-sets.ts";

/** Pairs of lives by the order of their ages and hazards; a pair counts as the product of its lives' weights. */
export type PairCounts = {
  /** Pairs of one stratum, at risk together, of which one failed while the other lived on: that of the higher hazard; that of the lower; of like hazards. */
  concordant: number;
  discordant: number;
  tiedHazards: number;
  /** Pairs that failed at one age, of hazards that differ; that are alike. */
  tiedAges: number;
  tiedBoth: number;
};

/**
 * Counts pairs, going back in time, in time n log n.
 * @param log - log hazards by place
 * @param squares - by place, the squares of the weights of the row's lives together
 * @returns with the counts, of each place two numbers: the weight of a life's pairs, concordant less discordant, and in all
 */
export function countPairs(
  sets: RiskSets,
  log: Float64Array,
  squares: Float64Array,
): { counts: PairCounts; influence: Float64Array } {
  const influence = new Float64Array(2 * log.length);
  const counts: PairCounts = { concordant: 0, discordant: 0, tiedHazards: 0, tiedAges: 0, tiedBoth: 0 };
  const { stratum } = sets;
  for (let from = 0, to = 0; from < stratum.length; from = to) {
    while (to < stratum.length && stratum[to] === stratum[from]) to++;
    new StratumPairs(sets, log, squares, { counts, influence }).count(from, to);
  }
  return { counts, influence };
}

/** Pairs of one stratum. A life's pairs with failures while it was at risk are those by its last such failure less those before its first. */
class StratumPairs {
  readonly #sets: RiskSets;
  readonly #log: Float64Array;
  readonly #squares: Float64Array;
  readonly #found: { counts: PairCounts; influence: Float64Array };
  #start = 0;
  #rank: Uint32Array = new Uint32Array(0);
  #atRisk = new RisingCounts(0);
  #failed = new RisingCounts(0);

  constructor(
    sets: RiskSets,
    log: Float64Array,
    squares: Float64Array,
    found: { counts: PairCounts; influence: Float64Array },
  ) {
    this.#sets = sets;
    this.#log = log;
    this.#squares = squares;
    this.#found = found;
  }

  count(from: number, to: number): void {
    const { first, firstFailed, end, leaving, leaveFrom, leaveEnd } = this.#sets;
    const [start, last] = [first[from]!, end[to - 1]!];
    this.#start = start;
    const { rank, ranks } = ranksOf(this.#log.subarray(start, last));
    this.#rank = rank;
    this.#atRisk = new RisingCounts(ranks);
    this.#failed = new RisingCounts(ranks);
    const stays = new Uint8Array(last - start).fill(1);
    for (let step = from; step < to; step++) {
      for (let at = leaveFrom[step]!; at < leaveEnd[step]!; at++) {
        this.#change(leaving![at]!, -1);
        stays[leaving![at]! - start] = 0;
      }
      this.#enter(first[step]!, firstFailed[step]!);
      for (let place = firstFailed[step]!; place < end[step]!; place++) this.#fail(place);
      this.#tie(firstFailed[step]!, end[step]!);
      for (let place = firstFailed[step]!; place < end[step]!; place++) {
        this.#failed.add(this.#rankOf(place), this.#weight(place));
      }
      this.#enter(firstFailed[step]!, end[step]!);
    }
    for (let place = start; place < last; place++) {
      if (stays[place - start] === 1) this.#change(place, -1);
    }
  }

  #rankOf(place: number): number {
    return this.#rank[place - this.#start]!;
  }

  #weight(place: number): number {
    return this.#sets.weight?.[place] ?? 1;
  }

  #enter(from: number, to: number): void {
    for (let place = from; place < to; place++) this.#change(place, 1);
  }

  #change(place: number, sign: 1 | -1): void {
    const own = this.#weight(place);
    if (own === 0) return;
    this.#atRisk.add(this.#rankOf(place), sign * own);
    const { below, alike, above } = around(this.#failed, this.#rankOf(place));
    this.#found.influence[2 * place]! -= sign * (above - below);
    this.#found.influence[2 * place + 1]! -= sign * (above + alike + below);
  }

  /** The pairs of a failure with those that outlast it. */
  #fail(place: number): void {
    const { counts, influence } = this.#found;
    const own = this.#weight(place);
    if (own === 0) return;
    const { below, alike, above } = around(this.#atRisk, this.#rankOf(place));
    counts.concordant += own * below;
    counts.discordant += own * above;
    counts.tiedHazards += own * alike;
    influence[2 * place]! += below - above;
    influence[2 * place + 1]! += above + alike + below;
  }

  /** The pairs of failures at one age. */
  #tie(from: number, to: number): void {
    if (to - from === 1 && this.#sets.weight === null) return;
    const byHazard = new Map<number, { sum: number; squares: number }>();
    let [sum, squares] = [0, 0];
    for (let place = from; place < to; place++) {
      const own = byHazard.get(this.#log[place]!) ?? { sum: 0, squares: 0 };
      own.sum += this.#weight(place);
      own.squares += this.#squares[place]!;
      byHazard.set(this.#log[place]!, own);
      sum += this.#weight(place);
      squares += this.#squares[place]!;
    }
    const both = [...byHazard.values()].reduce((all, own) => all + (own.sum * own.sum - own.squares) / 2, 0);
    this.#found.counts.tiedBoth += both;
    this.#found.counts.tiedAges += (sum * sum - squares) / 2 - both;
  }
}

function around(counts: RisingCounts, rank: number): { below: number; alike: number; above: number } {
  const [below, alike] = [counts.below(rank), counts.at(rank)];
  return { below, alike, above: counts.total - below - alike };
}

/** Number of each value among the distinct ones in ascending order, and how many those are. */
function ranksOf(values: Float64Array): { rank: Uint32Array; ranks: number } {
  const distinct = new Float64Array(new Set(values)).sort();
  const numbers = new Map<number, number>();
  for (let at = 0; at < distinct.length; at++) numbers.set(distinct[at]!, at);
  return { rank: Uint32Array.from(values, (value) => numbers.get(value)!), ranks: distinct.length };
}
