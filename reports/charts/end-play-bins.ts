import type { EndPlay } from "../../src/questions/overview-types.ts";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { inUnit } from "../../src/workspace/lengths.ts";
import type { Bin } from "./end-play-histogram.ts";

/** Bars over the window, or over the whole spread where there is none; a far reading widens them to 60 in all. */
const BARS = 10;
const MOST_BARS = 60;
/** Share of readings on every second bar from which the bars are made twice as wide: a gauge read in whole units makes a comb. */
const COMB = 0.9;

/**
 * Counts readings into bars of a round width, centred on its multiples, so that readings taken in whole units stand where they
 * are. A reading on an edge of the window is inside it; a bar that an edge cuts holds both kinds.
 */
export function endPlayBins({ values, window, unit }: EndPlay): Bin[] {
  const readings = values.map(({ value }) => value);
  const [low, high] =
    window === null
      ? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
      : [inUnit(window.low, window.unit, unit), inUnit(window.high, window.unit, unit)];
  const width = barWidth(readings, high - low);
  const slack = 1e-6 * width;
  const bins = new Map<number, Bin>();
  for (const reading of readings) {
    const number = Math.round(reading / width);
    const bin = bins.get(number) ?? { from: (number - 0.5) * width, to: (number + 0.5) * width, inside: 0, outside: 0 };
    bin[reading >= low - slack && reading <= high + slack ? "inside" : "outside"]++;
    bins.set(number, bin);
  }
  return [...bins.values()].toSorted((a, b) => a.from - b.from);
}

function barWidth(readings: number[], window: number): number {
  const least = readings.reduce((low, reading) => Math.min(low, reading), Number.POSITIVE_INFINITY);
  const most = readings.reduce((high, reading) => Math.max(high, reading), Number.NEGATIVE_INFINITY);
  const spread = most - least;
  const wanted = Math.max((Number.isFinite(window) ? window : spread) / BARS, spread / MOST_BARS);
  const width = roundTicks(wanted > 0 ? wanted : Math.abs(most) / BARS || 1, 1)[1] ?? 1;
  const onSecond = readings.filter(
    (reading) => Math.abs(reading / (2 * width) - Math.round(reading / (2 * width))) < 1e-6,
  );
  return onSecond.length >= COMB * readings.length && readings.length > 0 ? 2 * width : width;
}
