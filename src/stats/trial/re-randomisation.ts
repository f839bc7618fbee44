import type { Lives } from "../lives.ts";
import { streamOf } from "../random/stream.ts";
import { quadraticForm } from "../survival/laplacian-form.ts";
import { type LogRank, logRank } from "../survival/log-rank.ts";
import { type AssignedBlock, assignedBlocks, ordersOf, sumsOfOrders } from "./assigned-blocks.ts";
import { logRankScores } from "./log-rank-scores.ts";

/** Of each build of a trial what it was assigned, as `permutedBlocks` numbers it. */
export type Assigned = {
  /** From 0 up to, not with, `arms`. */
  arm: Int32Array;
  arms: number;
  /** Numbered within its stratum. */
  block: Int32Array;
  stratum?: Int32Array;
};

/** A log-rank test by re-randomisation. Where no assignment would show anything else, `p` is null and `reason` says why. */
export type ReRandomised = {
  /** The usual test, stratified as assigned; its own p is by chi-square. */
  logRank: LogRank;
  /** By re-randomisation, two-sided. */
  p: number | null;
  /** Whether all assignments were gone through. */
  exact: boolean;
  /** Assignments gone through or drawn, and those as extreme as the one that came: with it where exact, without it where drawn. */
  assignments: number;
  asExtreme: number;
  reason?: string;
};

/** Draws, 1 or more, also the most assignments that are gone through one by one (9999 where not given), and a seed. */
export type ReRandomisation = { draws?: number; seed: number };

/**
 * Log-rank test of builds assigned in blocks, stratified as assigned, whose p is the share of the assignments that could have come,
 * each block's arms in any order, that differ as much: right for any number of failures. Differences of an arm's failures from those
 * expected are taken from their mean over assignments, and weighed by their covariance over them. All assignments are gone through
 * where they are no more than the draws, else p = (1 + as extreme) / (1 + draws).
 * @param lives - of each build, exact or right-censored, no counts
 * @param assigned - arm, block and stratum of each build
 * @param options - draws and seed
 * @returns the usual test, and p by re-randomisation
 * @throws RangeError for columns that are not lives or assignments, counts, or draws out of range
 * @see W. F. Rosenberger & J. M. Lachin, Randomization in Clinical Trials, ch. 6; B. Phipson & G. K. Smyth, Stat. Appl. Genet. Mol. Biol. 9 (2010) 39, for the 1 added
 * @example reRandomisedLogRank(lives, { arm, arms: 2, block, stratum }, { seed: 7 });
 */
export function reRandomisedLogRank(lives: Lives, assigned: Assigned, options: ReRandomisation): ReRandomised {
  const { draws = 9999, seed } = options;
  const { arm, arms, stratum } = assigned;
  checkAssigned(lives, assigned, draws);
  const usual = logRank(lives, { group: arm, groups: arms, ...(stratum && { stratum }) });
  const blocks = assignedBlocks(logRankScores(lives, stratum), assigned);
  const compared = new Compared(blocks, arms);
  const none = { logRank: usual, p: null, exact: true, assignments: 0, asExtreme: 0 };
  if (!lives.failed.includes(1)) return { ...none, reason: "there are no failures" };
  if (!compared.differ) return { ...none, reason: "no block has builds of two arms that fared differently" };
  const limit = compared.distance(sumsOf(blocks, arms)) * (1 - ROUNDING) - ROUNDING ** 2;
  const asExtreme = (sums: Float64Array) => compared.distance(sums) >= limit;
  const all = blocks.reduce((product, block) => product * ordersOf(block), 1);
  if (all <= draws) {
    const found = allSums(blocks, arms).filter(asExtreme).length;
    return { logRank: usual, p: found / all, exact: true, assignments: all, asExtreme: found };
  }
  let found = 0;
  for (let draw = 0; draw < draws; draw++) if (asExtreme(drawnSums(blocks, arms, seed, draw))) found++;
  return { logRank: usual, p: (1 + found) / (1 + draws), exact: false, assignments: draws, asExtreme: found };
}

/** Sums in another order may differ by so much of themselves. */
const ROUNDING = 1e-9;

/** How far the sums of scores by arm lie from their mean over assignments. */
class Compared {
  readonly #mean: Float64Array;
  readonly #shared: Float64Array[];
  readonly differ: boolean;

  constructor(blocks: AssignedBlock[], groups: number) {
    this.#mean = new Float64Array(groups);
    this.#shared = Array.from({ length: groups }, () => new Float64Array(groups));
    for (const block of blocks) this.#add(block);
    this.differ = this.#shared.some((row) => row.some((common) => common > 0));
  }

  #add({ scores, arms }: AssignedBlock): void {
    const size = scores.length;
    const mean = scores.reduce((sum, score) => sum + score, 0) / size;
    const squares = scores.reduce((sum, score) => sum + (score - mean) ** 2, 0);
    const spread = squares > NEGLIGIBLE * size ? squares / (size * (size - 1)) : 0;
    const counts = new Float64Array(this.#mean.length);
    for (const arm of arms) counts[arm]!++;
    for (const [one, count] of counts.entries()) {
      this.#mean[one]! += count * mean;
      for (const [other, rival] of counts.entries()) {
        if (other !== one) this.#shared[one]![other]! += spread * count * rival;
      }
    }
  }

  distance(sums: Float64Array): number {
    const apart = sums.map((sum, arm) => sum - this.#mean[arm]!);
    return quadraticForm(this.#shared, apart).value;
  }
}

/** Scores of builds that fared alike differ by rounding only. */
const NEGLIGIBLE = 1e-24;

function sumsOf(blocks: AssignedBlock[], groups: number): Float64Array {
  const sums = new Float64Array(groups);
  for (const { scores, arms } of blocks)
    for (let build = 0; build < arms.length; build++) sums[arms[build]!]! += scores[build]!;
  return sums;
}

/** Sums by arm for each assignment that could have come. */
function allSums(blocks: AssignedBlock[], groups: number): Float64Array[] {
  let sums = [new Float64Array(groups)];
  for (const block of blocks) {
    const own = sumsOfOrders(block, groups);
    sums = sums.flatMap((before) => own.map((more) => before.map((sum, arm) => sum + more[arm]!)));
  }
  return sums;
}

function drawnSums(blocks: AssignedBlock[], groups: number, seed: number, draw: number): Float64Array {
  const stream = streamOf(seed, draw);
  const sums = new Float64Array(groups);
  for (const { scores, arms } of blocks) {
    const left = arms.slice();
    for (let build = arms.length - 1; build >= 0; build--) {
      const taken = stream.below(build + 1);
      sums[left[taken]!]! += scores[build]!;
      left[taken] = left[build]!;
    }
  }
  return sums;
}

function checkAssigned(lives: Lives, { arm, arms, block, stratum }: Assigned, draws: number): void {
  const size = lives.time.length;
  if (lives.count !== undefined) throw new RangeError("Cannot re-randomise: each life must be a build, found counts");
  for (const [name, column] of Object.entries({ arm, block, stratum: stratum ?? arm })) {
    if (column.length !== size) {
      throw new RangeError(`Cannot re-randomise: ${name} has ${column.length} values, expected ${size}`);
    }
  }
  const wrong = arm.find((one) => !(one >= 0 && one < arms));
  if (wrong !== undefined) throw new RangeError(`Cannot re-randomise: found arm ${wrong} of ${arms}`);
  if (!(Number.isInteger(draws) && draws >= 1)) {
    throw new RangeError(`Cannot re-randomise: draws must be a whole number from 1, found ${draws}`);
  }
}
