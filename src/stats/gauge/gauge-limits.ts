import { chiSquareQuantile } from "../chi-square-quantile.ts";
import { fQuantile } from "../f-quantile.ts";
import type { MeanSquare, MeanSquares } from "./mean-squares.ts";

/** Limits of a variance. */
export type VarianceLimits = { low: number; high: number };

/** Exact limits of the variance that one mean square estimates. */
export function repeatLimits({ value, degrees }: MeanSquare, tail: number): VarianceLimits {
  return {
    low: (value * degrees) / chiSquareQuantile(1 - tail, degrees),
    high: (value * degrees) / chiSquareQuantile(tail, degrees),
  };
}

/**
 * Limits of the gauge's whole variance, a sum of mean squares with weights above 0, by the modified large-sample method.
 * @see F. A. Graybill & C.-M. Wang, J. Amer. Statist. Assoc. 75 (1980) 869-873
 */
export function gaugeLimits(squares: MeanSquares, frames: number, tail: number): VarianceLimits {
  const { fitter, interaction, repeat, repeats } = squares;
  const parts = [
    { of: fitter, weight: 1 / (frames * repeats) },
    { of: interaction, weight: (frames - 1) / (frames * repeats) },
    { of: repeat, weight: (repeats - 1) / repeats },
  ];
  let [sum, below, above] = [0, 0, 0];
  for (const { of, weight } of parts) {
    const part = weight * of.value;
    sum += part;
    below += (part * (1 - of.degrees / chiSquareQuantile(1 - tail, of.degrees))) ** 2;
    above += (part * (of.degrees / chiSquareQuantile(tail, of.degrees) - 1)) ** 2;
  }
  return { low: Math.max(0, sum - Math.sqrt(below)), high: sum + Math.sqrt(above) };
}

/**
 * Limits of the variance between frames, a difference of two mean squares, by the modified large-sample method.
 * @see N. Ting, R. K. Burdick, F. A. Graybill, S. Jeyaratnam & T.-F. C. Lu, J. Statist. Comput. Simul. 35 (1990) 135-143
 */
export function frameLimits(
  { frame, interaction, repeats }: MeanSquares,
  fitters: number,
  tail: number,
): VarianceLimits {
  const [one, other] = [frame.value, interaction.value];
  const below = (degrees: number) => 1 - degrees / chiSquareQuantile(1 - tail, degrees);
  const above = (degrees: number) => degrees / chiSquareQuantile(tail, degrees) - 1;
  const high = fQuantile(1 - tail, frame.degrees, interaction.degrees);
  const low = fQuantile(tail, frame.degrees, interaction.degrees);
  const [g, h] = [below(frame.degrees), above(interaction.degrees)];
  const [g2, h2] = [below(interaction.degrees), above(frame.degrees)];
  const crossLow = ((high - 1) ** 2 - (g * high) ** 2 - h ** 2) / high;
  const crossHigh = ((1 - low) ** 2 - (h2 * low) ** 2 - g2 ** 2) / low;
  const reachLow = Math.sqrt(Math.max(0, (g * one) ** 2 + (h * other) ** 2 + crossLow * one * other));
  const reachHigh = Math.sqrt(Math.max(0, (h2 * one) ** 2 + (g2 * other) ** 2 + crossHigh * one * other));
  const scale = repeats * fitters;
  return {
    low: Math.max(0, (one - other - reachLow) / scale),
    high: Math.max(0, (one - other + reachHigh) / scale),
  };
}
