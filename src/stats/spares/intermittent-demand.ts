import { checkedShare, checkedWhole } from "./check-chances.ts";

/** Demand that comes now and then, smoothed. */
export type IntermittentDemand = {
  /** Pieces of a demand. */
  size: number;
  /** Periods from one demand to the next. */
  gap: number;
  /** Pieces a period: size / gap, which is too many by about smoothing / 2 of itself. */
  rate: number;
  /** The same times 1 - smoothing / 2. */
  correctedRate: number;
};

/**
 * Exponential smoothing of the size of demands and of the gaps between them, each taken on only where there is a demand. It starts at the
 * first demand and the first gap, from the start of the record to that demand, and is not moved by periods without demand after the last.
 * @param counts - pieces used in each period, in order: whole numbers, 0 or more
 * @param smoothing - weight of what is new, 0 < smoothing <= 1
 * @returns size, gap and rate; or why there is none
 * @throws RangeError for what are no counts, or a smoothing out of range
 * @see J. D. Croston, Operational Research Quarterly 23 (1972) 289-303; A. A. Syntetos & J. E. Boylan, International J. Forecasting 21 (2005) 303-314
 * @example intermittentDemand(Float64Array.of(0, 2, 0, 0, 1, 0, 0, 0, 3, 0, 1), 0.1).correctedRate; // 0.80210
 */
export function intermittentDemand(
  counts: Float64Array | Int32Array,
  smoothing: number,
): IntermittentDemand | { reason: string } {
  if (checkedShare("smoothing", smoothing) === 0) throw new RangeError("Cannot smooth demand: the smoothing is 0");
  let found: { size: number; gap: number } | null = null;
  let gap = 0;
  for (const count of counts) {
    gap++;
    if (checkedWhole("a count", count, 0) === 0) continue;
    found =
      found === null
        ? { size: count, gap }
        : { size: found.size + smoothing * (count - found.size), gap: found.gap + smoothing * (gap - found.gap) };
    gap = 0;
  }
  if (found === null) return { reason: "there was no demand in any period" };
  const rate = found.size / found.gap;
  return { ...found, rate, correctedRate: rate * (1 - smoothing / 2) };
}
