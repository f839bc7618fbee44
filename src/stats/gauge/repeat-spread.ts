import { checkedLevel } from "../level.ts";
import { repeatLimits } from "./gauge-limits.ts";
import { checkReadings, type GaugeReadings } from "./gauge-readings.ts";
import { type MeanSquare, over } from "./mean-squares.ts";

/** Standard deviation of a fitter's readings of one frame about their mean, in the unit of the readings, with exact limits. */
export type RepeatSpread = { sd: number; low: number; high: number };

/**
 * What repeats differ by, of any layout: the readings of each fitter of each frame about their own mean, pooled. It is the least that the
 * gauge can have, for what fitters differ by comes on top.
 * @param readings - frame and fitter of each reading, numbered from 0
 * @param level - of the limits, which take the readings of a cell as normal
 * @returns null where no frame was measured twice by one fitter
 * @throws RangeError for columns that are no readings, or a level out of range
 * @example repeatSpread({ frame, fitter, reading }, 0.95);
 */
export function repeatSpread(readings: GaugeReadings, level = 0.95): RepeatSpread | null {
  const tail = (1 - checkedLevel(level)) / 2;
  checkReadings(readings);
  const square = withinCells(readings);
  if (square.degrees === 0) return null;
  const { low, high } = repeatLimits(square, tail);
  return { sd: Math.sqrt(square.value), low: Math.sqrt(low), high: Math.sqrt(high) };
}

function withinCells({ frame, fitter, reading }: GaugeReadings): MeanSquare {
  const cells = new Map<string, { count: number; mean: number }>();
  let within = 0;
  for (let row = 0; row < reading.length; row++) {
    const name = `${frame[row]} ${fitter[row]}`;
    const cell = cells.get(name) ?? { count: 0, mean: 0 };
    cell.count++;
    const off = reading[row]! - cell.mean;
    cell.mean += off / cell.count;
    within += off * (reading[row]! - cell.mean);
    cells.set(name, cell);
  }
  return over(within, reading.length - cells.size);
}
