import { roundTicks } from "./round-ticks.ts";

/** A bar of a histogram: readings from `from` to below `to`, those inside their window and those outside it. */
export type Bin = { from: number; to: number; inside: number; outside: number };

/** Bars over the window, or over the whole spread where there is none; a far reading widens them to 60 in all. */
const BARS = 10;
const MOST_BARS = 60;
/** Share of readings on every second bar from which the bars are made twice as wide: a gauge read in whole units makes a comb. */
const COMB = 0.9;

/**
 * Counts readings into bars of a round width, centred on its multiples, so that readings taken in whole units stand where they
 * are; a bar that an edge of the window cuts holds both kinds.
 * @param outside - whether each lies outside its window
 * @param width - of the window; null where there is none
 */
export function readingBins(readings: Float64Array, outside: ArrayLike<unknown>, window: number | null): Bin[] {
  const width = barWidth(readings, window);
  const bins = new Map<number, Bin>();
  for (const [at, reading] of readings.entries()) {
    const number = Math.round(reading / width);
    const bin = bins.get(number) ?? { from: (number - 0.5) * width, to: (number + 0.5) * width, inside: 0, outside: 0 };
    bin[outside[at] ? "outside" : "inside"]++;
    bins.set(number, bin);
  }
  return [...bins.values()].toSorted((a, b) => a.from - b.from);
}

function barWidth(readings: Float64Array, window: number | null): number {
  const least = readings.reduce((low, reading) => Math.min(low, reading), Number.POSITIVE_INFINITY);
  const most = readings.reduce((high, reading) => Math.max(high, reading), Number.NEGATIVE_INFINITY);
  const spread = Math.max(0, most - least);
  const wanted = Math.max((window ?? spread) / BARS, spread / MOST_BARS);
  const width = roundTicks(wanted > 0 ? wanted : Math.abs(most) / BARS || 1, 1)[1] ?? 1;
  const onSecond = readings.filter(
    (reading) => Math.abs(reading / (2 * width) - Math.round(reading / (2 * width))) < 1e-6,
  );
  return onSecond.length >= COMB * readings.length && readings.length > 0 ? 2 * width : width;
}
