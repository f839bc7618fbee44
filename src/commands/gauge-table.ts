import type { GaugeParts, GaugeReadAnswer } from "../questions/gauge-answer.ts";
import { percent, wholePercent } from "../questions/wording.ts";
import type { AnswerTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

const PARTS = {
  repeatability: "repeatability: the same fitter again",
  reproducibility: "reproducibility: from fitter to fitter",
  gauge: "the gauge: both together",
  frame: "from frame to frame",
  total: "all readings",
} as const;

/** A gauge study as a table: each part of the variation, its standard deviation and its shares. */
export function gaugeTable(answer: GaugeReadAnswer): AnswerTable {
  const { components, window, compare } = answer;
  const headers = "part,variance,sd,sd_low,sd_high,share_of_variance,share_of_spread,share_of_window".split(",");
  if ("reason" in components) return { text: { headers: [], rows: [], right: [] }, csv: { headers, rows: [] } };
  const names = Object.keys(PARTS) as (keyof GaugeParts)[];
  const share = (of: number | null) => (of === null ? "–" : of > 1 ? percent(of) : wholePercent(of));
  const unit = window?.unit == null ? "" : `, ${window.unit}`;
  return {
    text: {
      headers: ["", `standard deviation${unit}`, "of variance", "of spread", "of the window"],
      right: [false, true, true, true, true],
      rows: names.map((name) => {
        const { sd, shareOfVariance, shareOfSpread, shareOfWindow } = components[name];
        return [PARTS[name], shortly(sd), share(shareOfVariance), share(shareOfSpread), share(shareOfWindow)];
      }),
    },
    ...(compare !== null && {
      next: `What it does to compare: were builds on record spread as these frames, a straight line over end play would show ${wholePercent(components.frame.shareOfVariance)} of its slope. To see it put right: ${compare}${window?.unit == null ? " (meant in the unit of the end play on record)" : `. To keep it, in framelife.yaml: gauges: { end_play: { sd: ${Number(components.gauge.sd.estimate!.toPrecision(3))}, unit: ${window.unit}, source: "framelife gauge read, DAY" } }`}`,
    }),
    csv: {
      headers,
      rows: names.map((name) => {
        const { variance, sd, shareOfVariance, shareOfSpread, shareOfWindow } = components[name];
        return [name, variance, sd.estimate, sd.low, sd.high, shareOfVariance, shareOfSpread, shareOfWindow];
      }),
    },
  };
}
