import type { GaugeTable } from "./gauge-readings.ts";

/** A mean square and its degrees of freedom. */
export type MeanSquare = { value: number; degrees: number };

/** What a crossed study's variation is split into. */
export type MeanSquares = Record<"frame" | "fitter" | "interaction" | "repeat", MeanSquare> & {
  /** Readings a frame and fitter: their harmonic mean where they differ. */
  repeats: number;
};

/**
 * Mean squares of a two-way crossed layout: those of the cells' unweighted means times the harmonic mean of the readings a cell, which for
 * equal numbers are the usual ones, and that of the readings about their cells' means.
 * @see F. Yates, J. Amer. Statist. Assoc. 29 (1934) 51-66, for unweighted means
 */
export function meanSquares({ frames, fitters, counts, means, within }: GaugeTable): MeanSquares {
  const cells = frames * fitters;
  const repeats = cells / counts.reduce((sum, count) => sum + 1 / count, 0);
  const byFrame = Float64Array.from({ length: frames }, (_, frame) => meanOf(means, frame * fitters, 1, fitters));
  const byFitter = Float64Array.from({ length: fitters }, (_, fitter) => meanOf(means, fitter, fitters, frames));
  const all = meanOf(byFrame, 0, 1, frames);
  let interaction = 0;
  for (let cell = 0; cell < cells; cell++) {
    const frame = Math.floor(cell / fitters);
    interaction += (means[cell]! - byFrame[frame]! - byFitter[cell % fitters]! + all) ** 2;
  }
  const squares = (column: Float64Array) => column.reduce((sum, mean) => sum + (mean - all) ** 2, 0);
  const rounding = cells * (ROUNDING * means.reduce((most, mean) => Math.max(most, Math.abs(mean)), 0)) ** 2;
  const readings = counts.reduce((sum, count) => sum + count, 0);
  return {
    repeats,
    frame: over(repeats * fitters * orNone(squares(byFrame), rounding), frames - 1),
    fitter: over(repeats * frames * orNone(squares(byFitter), rounding), fitters - 1),
    interaction: over(repeats * orNone(interaction, rounding), (frames - 1) * (fitters - 1)),
    repeat: over(within, readings - cells),
  };
}

/** Means of like readings differ by a few units in the last place. */
const ROUNDING = 16 * Number.EPSILON;

function orNone(sum: number, rounding: number): number {
  return sum > rounding ? sum : 0;
}

/** Of a sum of squares. */
export function over(sum: number, degrees: number): MeanSquare {
  return { value: sum / degrees, degrees };
}

function meanOf(values: Float64Array, first: number, step: number, size: number): number {
  let sum = 0;
  for (let at = 0; at < size; at++) sum += values[first + at * step]!;
  return sum / size;
}
