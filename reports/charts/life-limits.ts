import type { TopLevelSpec } from "vega-lite";
import type { Estimate } from "../../src/questions/answer.ts";
import { inWords } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { roundTicks } from "./round-ticks.ts";
import type { Position } from "./spec-types.ts";

const ROW = 46;

export type LimitRow = { label: string; l10: Estimate; median: Estimate };

/** L10 and median of each group as a point on its interval, the shortest interval being the surest. */
export function lifeLimits(
  rows: LimitRow[],
  { level, timeTitle, title }: { level: number; timeTitle: string; title: string },
): TopLevelSpec {
  const known = rows.filter(({ l10 }) => l10.estimate !== null);
  const ends = known.flatMap(({ l10, median }) => [
    l10.high ?? l10.estimate ?? 0,
    Math.min(median.high ?? 0, 3 * (median.estimate ?? 0)),
    median.estimate ?? 0,
  ]);
  const ticks = roundTicks(Math.max(...ends, 0));
  const end = ticks.at(-1) ?? 1;
  const values = known.flatMap(({ label, l10, median }) => [
    ...mark(label, "L10", l10, -9, end),
    ...mark(label, "median", median, 11, end),
  ]);
  const x: Position = {
    field: "time",
    type: "quantitative",
    title: timeTitle,
    scale: { domain: [0, end], nice: false },
    axis: { values: ticks, format: ",~r" },
  };
  const y: Position = {
    field: "label",
    type: "nominal",
    sort: known.map(({ label }) => label),
    title: null,
    axis: { labelLimit: 150, labelColor: COLOURS.ink, labelFontSize: 11.5, domain: false, ticks: false },
  };
  const half = (figure: string, offset: number) => {
    const data = { values: values.filter((value) => value.figure === figure) };
    const color = figure === "L10" ? COLOURS.accent : COLOURS.ink;
    const tooltip = [
      { field: "label", title: "Slot" },
      { field: "words", title: figure },
    ];
    return [
      {
        data,
        mark: { type: "rule", yOffset: offset, strokeWidth: 2.5, color, clip: true },
        encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y, tooltip },
      },
      {
        data,
        mark: {
          type: "point",
          yOffset: offset,
          filled: true,
          size: 60,
          shape: figure === "L10" ? "circle" : "diamond",
          color,
          opacity: 1,
        },
        encoding: { x, y, tooltip },
      },
      {
        data,
        mark: { type: "text", yOffset: offset - 11, fontSize: 10.5, color },
        encoding: { x, y, text: { field: "text" } },
      },
    ] as const;
  };
  return {
    description: `L10 and median with ${100 * level} % intervals, ${title}: ${known.map(({ label, l10, median }) => `${label} L10 ${inWords(l10.estimate ?? 0)}, median ${median.estimate === null ? "not known" : inWords(median.estimate)}`).join("; ")}.`,
    config: CHART_CONFIG,
    height: Math.max(1, known.length) * ROW,
    layer: [...half("L10", -9), ...half("median", 11)],
  };
}

function mark(label: string, figure: string, { estimate, low, high }: Estimate, offset: number, end: number) {
  if (estimate === null || estimate > end) return [];
  return [
    {
      label,
      figure,
      offset,
      time: estimate,
      low: low ?? 0,
      high: Math.min(high ?? end, end),
      text: `${figure} ${inWords(estimate)}`,
      words: `${inWords(estimate)} (${low === null ? "no lower limit" : inWords(low)} to ${high === null ? "no upper limit" : inWords(high)})`,
    },
  ];
}
