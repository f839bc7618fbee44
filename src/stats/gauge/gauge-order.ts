import { shuffled } from "../random/shuffled.ts";
import { streamOf } from "../random/stream.ts";

/** A crossed study: whole numbers of frames and fitters from 2, of repeats from 2, and a seed. */
export type GaugeDesign = { frames: number; fitters: number; repeats: number; seed: number };

/** One row a reading, in the order in which they are to be taken; all numbered from 0. */
export type GaugeOrder = { round: Int32Array; frame: Int32Array; fitter: Int32Array };

/**
 * Random order of the readings of a crossed gauge study: in each round every fitter measures every frame once, all pairs in any order, so
 * that a repeat does not follow its first reading and what drifts falls on all alike.
 * @param design - frames, fitters, repeats, seed
 * @returns columns of round, frame and fitter
 * @throws RangeError for a design that can't be studied
 * @see R. K. Burdick, C. M. Borror & D. C. Montgomery, Design and Analysis of Gauge R&R Studies, 2005, ch. 1
 * @example gaugeOrder({ frames: 10, fitters: 3, repeats: 3, seed: 7 }).frame.length; // 90
 */
export function gaugeOrder({ frames, fitters, repeats, seed }: GaugeDesign): GaugeOrder {
  const cells = frames * fitters;
  const possible = [frames, fitters, repeats].every((size) => Number.isInteger(size) && size >= 2);
  if (!(possible && cells * repeats <= MOST && Number.isInteger(seed))) {
    const found = `${frames} frames, ${fitters} fitters, ${repeats} repeats, seed ${seed}`;
    throw new RangeError(`Cannot order a gauge study: found ${found}`);
  }
  const round = Int32Array.from({ length: cells * repeats }, (_, row) => Math.floor(row / cells));
  const order = round.map((one, row) => row - one * cells);
  for (let one = 0; one < repeats; one++) shuffled(order.subarray(one * cells, (one + 1) * cells), streamOf(seed, one));
  return {
    round,
    frame: order.map((cell) => Math.floor(cell / fitters)),
    fitter: order.map((cell) => cell % fitters),
  };
}

/** More readings nobody takes. */
const MOST = 1_000_000;
