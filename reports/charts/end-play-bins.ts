import type { EndPlay } from "../../src/questions/overview-types.ts";
import type { Bin } from "./end-play-histogram.ts";
import { inUnit } from "./length-units.ts";

/** Bars within the window where there is one; without, about as many over the whole spread. */
const BARS = 10;
const MOST_BARS = 60;

/**
 * Counts readings into bars of equal width. With a window the bars begin at its edges, and a reading on an edge is inside;
 * a far reading widens the bars, so that no picture has more than about 60.
 */
export function endPlayBins({ values, window, unit }: EndPlay): Bin[] {
  const readings = values.map(({ value }) => value);
  const least = readings.reduce((low, reading) => Math.min(low, reading), Number.POSITIVE_INFINITY);
  const most = readings.reduce((high, reading) => Math.max(high, reading), Number.NEGATIVE_INFINITY);
  const [low, high] =
    window === null ? [least, most] : [window.low, window.high].map((edge) => inUnit(edge, window.unit, unit));
  const width = barWidth(low!, high!, most - least);
  const slack = 1e-9 * Math.max(width, Math.abs(high!));
  const bins = new Map<number, Bin>();
  for (const reading of readings) {
    const onUpperEdge = Math.abs(reading - high!) <= slack && high! > low!;
    const number = Math.floor((reading - low!) / width + 1e-9) - (onUpperEdge ? 1 : 0);
    const bin = bins.get(number) ?? {
      from: low! + number * width,
      to: low! + (number + 1) * width,
      inside: 0,
      outside: 0,
    };
    bin[reading >= low! - slack && reading <= high! + slack ? "inside" : "outside"]++;
    bins.set(number, bin);
  }
  return [...bins.values()].toSorted((a, b) => a.from - b.from);
}

function barWidth(low: number, high: number, spread: number): number {
  const width = Math.max((high - low) / BARS, spread / MOST_BARS);
  return width > 0 ? width : Math.max(Math.abs(low) / BARS, 1e-6);
}
