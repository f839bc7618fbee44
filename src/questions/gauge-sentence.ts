import type { GaugeReadAnswer, GaugeWindow } from "./gauge-answer.ts";
import { count, inWords, wholePercent, withLimits } from "./wording.ts";

/** The answer in one sentence: the gauge's share, its standard deviation, how much of the window that is, what it tells apart. */
export function gaugeSentence({ components, distinctBands, window }: GaugeReadAnswer): string {
  const unit = window?.unit == null ? "" : ` ${window.unit}`;
  if ("reason" in components) {
    const { reason, repeatability } = components;
    const least =
      repeatability === undefined
        ? ""
        : `; one fitter's repeats of a frame have a standard deviation of ${withLimits(repeatability, unit)}, and the gauge has no less`;
    return `How much of what readings differ by is the gauge's can't be told, for ${reason}${least}.`;
  }
  const { gauge } = components;
  const share =
    window === null || gauge.shareOfWindow === null
      ? ""
      : `, six of which take up ${wholePercentOver(gauge.shareOfWindow)} of the window (${windowWords(window)})`;
  return `Of the variance of readings ${wholePercent(gauge.shareOfVariance)} is the gauge's: a standard deviation of ${withLimits(gauge.sd, unit)}${share}; it tells ${apartWords(distinctBands ?? 0)}.`;
}

/** "2 to 7 thou". */
export function windowWords({ low, high, unit }: GaugeWindow): string {
  return `${inWords(low)} to ${inWords(high)}${unit === null ? "" : ` ${unit}`}`;
}

function apartWords(bands: number): string {
  return bands < 2 ? "no two bands of such frames apart" : `${count(bands, "band")} of such frames apart`;
}

/** A share that may be above 1. */
function wholePercentOver(share: number): string {
  return share > 1 ? `${inWords(Math.round(100 * share))} %` : wholePercent(share);
}
