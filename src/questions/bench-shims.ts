import studentQuantile from "@stdlib/stats-base-dists-t-quantile";
import { meanSpread } from "../stats/measurements/mean-spread.ts";
import type { ShimCheck, ShimFlag } from "./bench-answer.ts";
import type { BenchRows } from "./bench-rows.ts";
import type { Estimate } from "./estimate.ts";
import { shellWord } from "./rows-command.ts";

/** A difference beyond so many standard deviations is none of the gauge's: 3 in a thousand are, by chance. */
const SIGMAS = 3;
/** Deviation of a reading where none is known, in mm: a dial in thou is read to half of one. Common practice, no source. */
const USUAL_GAUGE_SD_MM = 0.0127;
/** Readings in a difference: depth, spigot and end play; or play without shims and with them. Shims count by their marks. */
const WITH_DEPTH = 3;
const WITH_PLAY = 2;
/** Flags that an answer has room for: the latest. */
const MOST_FLAGS = 50;

export type ShimsAsked = {
  shims: ShimCheck["shims"];
  gaugeSd: number | null;
  mmPerUnit: number;
  level: number;
  trace: string;
};

/** Largest difference between a reading and what shims should leave that the gauge explains, in the unit of `gaugeSd`. */
export function allowedDifference(gaugeSd: number | null, mmPerUnit: number): ShimCheck["allowed"] {
  const sd = gaugeSd ?? USUAL_GAUGE_SD_MM / mmPerUnit;
  return { withDepth: SIGMAS * sd * Math.sqrt(WITH_DEPTH), withPlay: SIGMAS * sd * Math.sqrt(WITH_PLAY) };
}

/** The end play that shims leave of the play without them. */
export function shimmedPlay(without: number, pack: number, shims: ShimCheck["shims"]): number {
  return tidy(shims === "take_up" ? without - pack : without + pack);
}

/** Cards whose reading differs from what depth, spigot and shims (or the play without shims) leave by more than the gauge explains. */
export function shimCheckOf(rows: BenchRows, chosen: Int32Array, asked: ShimsAsked): ShimCheck {
  const allowed = allowedDifference(asked.gaugeSd, asked.mmPerUnit);
  const checks = Array.from(chosen, (row) => checkOf(rows, row, asked)).filter((check) => check !== null);
  const flagged = checks.filter(
    ({ difference, from }) =>
      Math.abs(difference) > (from === "play without shims" ? allowed.withPlay : allowed.withDepth) * (1 + 1e-9),
  );
  return {
    shims: asked.shims,
    checked: checks.length,
    lacking: chosen.length - checks.length,
    allowed,
    gaugeSd: asked.gaugeSd,
    meanDifference: meanDifferenceOf(
      Float64Array.from(checks, ({ difference }) => difference),
      asked.level,
    ),
    flagged: flagged.slice(-MOST_FLAGS).toReversed(),
    flaggedInAll: flagged.length,
  };
}

function checkOf(rows: BenchRows, row: number, { shims, trace }: ShimsAsked): ShimFlag | null {
  const byPlay = !Number.isNaN(rows.unshimmed[row]!);
  const without = byPlay ? rows.unshimmed[row]! : rows.depth[row]! - rows.spigot[row]!;
  const expected = shimmedPlay(without, rows.shims[row]!, shims);
  const reading = rows.value[row]!;
  if (Number.isNaN(expected) || Number.isNaN(reading)) return null;
  const fleet = rows.fleet.words[rows.fleet.codes[row]!]!;
  return {
    card: rows.card[row]!,
    unit: rows.unit[row] || null,
    on: rows.on[row] || null,
    expected,
    reading,
    difference: tidy(reading - expected),
    from: byPlay ? "play without shims" : "race depth and spigot height",
    trace: `${trace} ${shellWord(`${fleet}/${rows.card[row]!}`)}`,
  };
}

function meanDifferenceOf(differences: Float64Array, level: number): Estimate {
  const { mean, sd } = meanSpread(differences);
  if (mean === null || sd === null) return { estimate: mean, low: null, high: null, reason: "fewer than two builds" };
  const reach = (studentQuantile((1 + level) / 2, differences.length - 1) * sd) / Math.sqrt(differences.length);
  return { estimate: mean, low: mean - reach, high: mean + reach };
}

/** Without what subtracting lengths leaves in the last digits. */
function tidy(value: number): number {
  return Number(value.toFixed(5));
}
