import { betweenGroups } from "../stats/measurements/between-groups.ts";
import { likeReadings } from "../stats/measurements/like-readings.ts";
import { meanSpread } from "../stats/measurements/mean-spread.ts";
import { shareInterval } from "../stats/measurements/share-interval.ts";
import type { BenchAsBuilt, BenchShare, BenchWindow } from "./bench-answer.ts";
import { chartOf } from "./bench-chart.ts";
import { type BenchRows, sideOf } from "./bench-rows.ts";
import { readingBins } from "./reading-bins.ts";

export type AsBuiltAsked = {
  unit: string | null;
  window: BenchWindow | null;
  gaugeSd: number | null;
  level: number;
  /** Whether the builds are those of one fitter: then there is nothing between fitters. */
  oneFitter: boolean;
};

/** As-built readings against their window, and against each other. `chosen` are builds in the order of building. */
export function asBuiltOf(rows: BenchRows, chosen: Int32Array, asked: AsBuiltAsked): BenchAsBuilt {
  const read = chosen.filter((row) => !Number.isNaN(rows.value[row]!));
  const values = Float64Array.from(read, (row) => rows.value[row]!);
  const sides = Array.from(read, (row) => sideOf(rows, row));
  const alike = likeReadings(values, asked.gaugeSd === null ? {} : { gaugeSd: asked.gaugeSd });
  const { window } = asked;
  return {
    unit: asked.unit,
    window,
    readings: read.length,
    below: sides.filter((side) => side === "below").length,
    above: sides.filter((side) => side === "above").length,
    outside: outsideOf(rows, chosen, asked.level),
    ...meanSpread(values),
    histogram: read.length === 0 ? [] : readingBins(values, sides, window === null ? null : window.high - window.low),
    chart: chartOf(rows, read, sides),
    ...fittersOf(rows, read, asked),
    copied: alike.copied ? alike.reasons : [],
  };
}

/** Share of the readings that have a window and lie outside it. */
export function outsideOf(rows: BenchRows, chosen: Int32Array, level: number): BenchShare {
  let [count, of] = [0, 0];
  for (const row of chosen) {
    if (Number.isNaN(rows.value[row]!) || (Number.isNaN(rows.low[row]!) && Number.isNaN(rows.high[row]!))) continue;
    of++;
    if (sideOf(rows, row) !== null) count++;
  }
  if (of > 0) return { ...shareInterval(count, of, level), count, of };
  const read = chosen.some((row) => !Number.isNaN(rows.value[row]!));
  const reason = read ? "no window is known to hold readings against" : "no build has a reading";
  return { estimate: null, low: null, high: null, reason, count, of };
}

function fittersOf(
  { value, fitter }: BenchRows,
  read: Int32Array,
  { level, oneFitter }: AsBuiltAsked,
): Pick<BenchAsBuilt, "betweenFitters" | "betweenFittersReason"> {
  const none = (reason: string) => ({ betweenFitters: null, betweenFittersReason: reason });
  if (oneFitter) return none("these are one fitter's own builds");
  const signed = read.filter((row) => fitter.codes[row]! >= 0);
  const found = betweenGroups(
    Float64Array.from(signed, (row) => value[row]!),
    Int32Array.from(signed, (row) => fitter.codes[row]!),
    level,
  );
  if (found.share === null) {
    return none(signed.length === 0 ? "no reading has a fitter's code" : found.reason.replaceAll("group", "fitter"));
  }
  const { groups: fitters, readings, share, betweenSd, withinSd, p } = found;
  return { betweenFitters: { fitters, readings, share, betweenSd, withinSd, p }, betweenFittersReason: null };
}
