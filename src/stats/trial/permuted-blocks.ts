import { shuffled } from "../random/shuffled.ts";
import { type Stream, streamOf } from "../random/stream.ts";

/** How builds are to be assigned. */
export type BlockDesign = {
  /** Of each arm, how many of a smallest block fall to it: whole numbers from 1, as 1 and 1, or 2 and 1. */
  ratio: readonly number[];
  /** Sizes that blocks may have, each as likely: multiples of the ratio's sum. */
  blockSizes: readonly number[];
  /** Builds wanted in each stratum. */
  strata: readonly number[];
  /** Any whole number. */
  seed: number;
};

/** One row an assignment: strata one after another, within each in the order in which builds are to take them. */
export type Assignments = {
  stratum: Int32Array;
  /** Numbered from 0 within its stratum. */
  block: Int32Array;
  arm: Int32Array;
};

/**
 * Assigns builds to arms in random permuted blocks of random sizes, within strata: after each whole block the arms of a stratum stand
 * exactly in the ratio, and what comes next can't be told from what came before. A last block may be cut short. Each stratum has random
 * numbers of its own, so that a longer list begins as a shorter one of the same seed, and a further stratum changes none before it.
 * @param design - ratio, sizes of blocks, builds a stratum, seed
 * @returns columns of stratum, block and arm, numbered from 0
 * @throws RangeError for a design that can't be
 * @see J. P. Matts & J. M. Lachin, Controlled Clinical Trials 9 (1988) 327-344; ICH E9, Statistical principles for clinical trials, 2.3.2
 * @example permutedBlocks({ ratio: [1, 1], blockSizes: [4, 6], strata: [20, 12], seed: 7 }).arm.length; // 32
 */
export function permutedBlocks(design: BlockDesign): Assignments {
  checkDesign(design);
  const total = design.strata.reduce((sum, builds) => sum + builds, 0);
  const stratum = new Int32Array(total);
  const [block, arm] = [new Int32Array(total), new Int32Array(total)];
  let row = 0;
  for (const [number, builds] of design.strata.entries()) {
    const stream = streamOf(design.seed, number);
    const end = row + builds;
    for (let at = 0; row < end; at++) {
      for (const drawn of drawnBlock(design, stream).slice(0, end - row)) {
        stratum[row] = number;
        block[row] = at;
        arm[row] = drawn;
        row++;
      }
    }
  }
  return { stratum, block, arm };
}

function drawnBlock({ ratio, blockSizes }: BlockDesign, stream: Stream): Int32Array {
  const size = blockSizes[stream.below(blockSizes.length)]!;
  const times = size / sumOf(ratio);
  return shuffled(Int32Array.from(ratio.flatMap((share, arm) => Array<number>(share * times).fill(arm))), stream);
}

function checkDesign({ ratio, blockSizes, strata, seed }: BlockDesign): void {
  const isCount = (value: number, least: number) => Number.isInteger(value) && value >= least && value <= MOST;
  if (ratio.length < 2 || !ratio.every((share) => isCount(share, 1))) {
    throw new RangeError(`Cannot assign builds: the ratio must be two or more whole numbers from 1, found "${ratio}"`);
  }
  const least = sumOf(ratio);
  if (blockSizes.length === 0 || !blockSizes.every((size) => isCount(size, least) && size % least === 0)) {
    throw new RangeError(`Cannot assign builds: sizes of blocks must be multiples of ${least}, found "${blockSizes}"`);
  }
  if (!strata.every((builds) => isCount(builds, 0))) {
    throw new RangeError(`Cannot assign builds: builds of a stratum must be whole numbers from 0, found "${strata}"`);
  }
  if (!Number.isInteger(seed)) throw new RangeError(`Cannot assign builds: the seed must be whole, found ${seed}`);
}

/** Larger lists are no trials, and would fill the memory. */
const MOST = 10_000_000;

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}
