import { studentQuantile } from "../student-quantile.ts";
import { type GaugeReadings, gaugeTable } from "./gauge-readings.ts";

/** A reading that lies far from the others of its frame and fitter: its place, and how far in standard errors. */
export type StrayReading = { row: number; distance: number };

/**
 * The reading that lies farthest from the mean of its frame and fitter, if it lies farther than chance puts one of so many: by its
 * residual over a standard error found without it, t = e / sqrt(s^2 (1 - 1 / n)), against Student's t at `chance` over all readings.
 * One slip of the pen can make a good gauge look useless.
 * @param readings - frame and fitter of each reading, numbered from 0
 * @param chance - that one of readings without a slip is named, between 0 and 1
 * @returns the reading, or null where none strays, where no others differ, or where readings are no gauge study
 * @throws RangeError for columns that are no readings
 * @see R. D. Cook & S. Weisberg, Residuals and Influence in Regression, 1982, ch. 2.2
 * @example strayReading({ frame, fitter, reading }, 0.001); // { row: 11, distance: 32.6 }
 */
export function strayReading(readings: GaugeReadings, chance: number): StrayReading | null {
  const table = gaugeTable(readings);
  if ("reason" in table) return null;
  const { fitters, counts, means, within } = table;
  const { frame, fitter, reading } = readings;
  const degrees = reading.length - counts.length - 1;
  if (degrees < 1) return null;
  let farthest: StrayReading = { row: 0, distance: 0 };
  for (let row = 0; row < reading.length; row++) {
    const cell = frame[row]! * fitters + fitter[row]!;
    const free = 1 - 1 / counts[cell]!;
    const residual = reading[row]! - means[cell]!;
    const rest = free > 0 ? within - residual ** 2 / free : 0;
    const distance = rest > within * ROUNDING ? residual / Math.sqrt((rest / degrees) * free) : 0;
    if (Math.abs(distance) > Math.abs(farthest.distance)) farthest = { row, distance };
  }
  const limit = studentQuantile(1 - chance / 2 / reading.length, degrees);
  return Math.abs(farthest.distance) > limit ? farthest : null;
}

/** What is left of squares that cancel is rounding below this share of them. */
const ROUNDING = 1e-12;
