import { chiSquareQuantile } from "../chi-square-quantile.ts";
import { meanSpread } from "./mean-spread.ts";

/** How much readings are alike. */
export type LikeReadings = {
  readings: number;
  /** Different values among them. */
  distinct: number;
  /** The most frequent value, the smallest of several; null of no readings. */
  mostFrequent: number | null;
  /** How many readings have it, and their share of all; null of no readings. */
  times: number;
  share: number | null;
  /** Share of the readings that are exactly the target; null without target or readings. */
  shareAtTarget: number | null;
  /** Standard deviation; null below two readings. */
  sd: number | null;
  /** Whether they look copied, by our own thresholds, and by which. */
  copied: boolean;
  reasons: string[];
};

/** The value aimed at, and the standard deviation of the gauge, 0 or more, in the unit of the readings. */
export type LikeOptions = { target?: number; gaugeSd?: number };

/** Fewer readings may be alike by luck: our own choice. */
const FEWEST = 10;

/** Share at one value from which readings look copied: our own choice. Rounding to a sixth of the window puts a third of them there. */
const MOST_AT_ONE = 0.5;

/** Chance to call readings too even for their gauge that are not: our own choice. */
const TOO_EVEN = 0.01;

/**
 * Tells readings that look copied from the target rather than taken: half of ten or more at one value, or a spread that the gauge's own
 * error would exceed in 99 of 100 sets. Values that agree to nine digits are the same.
 * @param readings - finite
 * @param options - target, gauge's standard deviation
 * @returns counts, shares, and whether they look copied
 * @throws RangeError for a reading or a target that is no number, or a deviation below 0
 * @see "common practice, no source": the thresholds are ours
 * @example likeReadings(Float64Array.of(5, 5, 5, 4.5), { target: 5 }).shareAtTarget; // 0.75
 */
export function likeReadings(readings: Float64Array, options: LikeOptions = {}): LikeReadings {
  checkReadings(readings, options);
  const { target, gaugeSd = 0 } = options;
  const counts = new Map<string, { value: number; times: number }>();
  for (const value of readings.toSorted()) {
    const known = counts.get(nameOf(value));
    if (known === undefined) counts.set(nameOf(value), { value, times: 1 });
    else known.times++;
  }
  let [mostFrequent, times]: [number | null, number] = [null, 0];
  for (const found of counts.values()) if (found.times > times) ({ value: mostFrequent, times } = found);
  const shareOf = (count: number) => (readings.length === 0 ? null : count / readings.length);
  const [share, sd] = [shareOf(times), meanSpread(readings).sd];
  const reasons = reasonsOf(readings.length, share, sd, gaugeSd);
  return {
    readings: readings.length,
    distinct: counts.size,
    mostFrequent,
    times,
    share,
    shareAtTarget: target === undefined ? null : shareOf(counts.get(nameOf(target))?.times ?? 0),
    sd,
    copied: reasons.length > 0,
    reasons,
  };
}

function checkReadings(readings: Float64Array, { target = 0, gaugeSd = 0 }: LikeOptions): void {
  const wrong = readings.findIndex((reading) => !Number.isFinite(reading));
  if (wrong >= 0) {
    throw new RangeError(`Cannot compare readings: reading ${wrong} (counted from 0) is ${readings[wrong]}`);
  }
  if (Number.isFinite(target) && gaugeSd >= 0 && gaugeSd < Number.POSITIVE_INFINITY) return;
  throw new RangeError(`Cannot compare readings: found target ${target} and gauge deviation ${gaugeSd}`);
}

function nameOf(value: number): string {
  return (value === 0 ? 0 : value).toPrecision(9);
}

function reasonsOf(readings: number, share: number | null, sd: number | null, gaugeSd: number): string[] {
  const reasons: string[] = [];
  if (share === null || sd === null || readings < FEWEST) return reasons;
  if (share >= MOST_AT_ONE) reasons.push(`${Math.round(100 * share)} % of the readings are one value`);
  const least = gaugeSd * Math.sqrt(chiSquareQuantile(TOO_EVEN, readings - 1) / (readings - 1));
  if (sd < least) reasons.push("the readings differ by less than the gauge's own error");
  return reasons;
}
