import type { TopLevelSpec } from "vega-lite";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { count } from "../../src/questions/wording.ts";
import type { LengthUnit } from "../../src/workspace/lengths.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import type { Layer, Position } from "./spec-types.ts";

const HEIGHT = 230;

export type Bin = { from: number; to: number; inside: number; outside: number };

export type HistogramRows = {
  title: string;
  unit: LengthUnit;
  bins: Bin[];
  /** Edges of the window in `unit`; in words, as stated; and whose window it is. */
  window: { low: number; high: number; words: string; source: string } | null;
};

/** As-built end play as bars, with the edges of its window; what lies outside is in the accent colour and hatched by its outline. */
export function endPlayHistogram({ title, unit, bins, window }: HistogramRows): TopLevelSpec {
  const low = Math.min(bins[0]?.from ?? 0, window?.low ?? Number.POSITIVE_INFINITY);
  const high = Math.max(bins.at(-1)?.to ?? 1, window?.high ?? Number.NEGATIVE_INFINITY);
  const room = (high - low) * 0.05;
  const highest = Math.max(...bins.map(({ inside, outside }) => inside + outside), 1);
  const x: Position = {
    field: "from",
    type: "quantitative",
    title: `End play as built (${unit})`,
    scale: { domain: [low - room, high + room], nice: false, zero: false },
    axis: { format: ",~r", grid: false, tickCount: 8 },
  };
  const y: Position = {
    field: "top",
    type: "quantitative",
    title: "Builds",
    scale: { domain: [0, highest * 1.28], nice: false },
    axis: { values: wholeTicks(highest) },
  };
  const values = bins.flatMap(({ from, to, inside, outside }) => [
    { from, to, base: 0, top: inside, builds: inside, place: window === null ? "built" : "inside the window" },
    { from, to, base: inside, top: inside + outside, builds: outside, place: "outside the window" },
  ]);
  const readings = bins.reduce((sum, { inside, outside }) => sum + inside + outside, 0);
  const out = bins.reduce((sum, { outside }) => sum + outside, 0);
  return {
    description: `As-built end play, ${title}: ${count(readings, "reading")}${window === null ? "" : `, ${out} of them outside the window of ${window.words} (${window.source})`}.`,
    config: CHART_CONFIG,
    height: HEIGHT,
    layer: [
      {
        data: { values: values.filter(({ builds }) => builds > 0) },
        mark: { type: "bar", binSpacing: 1 },
        encoding: {
          x,
          x2: { field: "to" },
          y,
          y2: { field: "base" },
          fill: {
            condition: { test: "datum.place === 'outside the window'", value: COLOURS.accent },
            value: COLOURS.faint,
          },
          tooltip: [
            { field: "from", title: `From (${unit})`, format: ",.4~r" },
            { field: "to", title: `To (${unit})`, format: ",.4~r" },
            { field: "builds", title: "Builds", format: "," },
            { field: "place", title: "Place" },
          ],
        },
      },
      ...windowLayers(window, x),
    ],
  };
}

function windowLayers(window: HistogramRows["window"], x: Position): Layer[] {
  if (window === null) return [];
  const edges = [{ from: window.low }, { from: window.high }];
  return [
    {
      data: { values: edges },
      mark: { type: "rule", color: COLOURS.ink, strokeWidth: 1.5, strokeDash: [5, 3] },
      encoding: { x },
    },
    {
      data: { values: [{ from: window.low, to: window.high }] },
      mark: { type: "rule", color: COLOURS.ink, strokeWidth: 1 },
      encoding: { x, x2: { field: "to" }, y: { value: 38 } },
    },
    {
      data: { values: [{ from: (window.low + window.high) / 2, text: [`window ${window.words}`, window.source] }] },
      mark: { type: "text", baseline: "top", lineHeight: 14, color: COLOURS.ink, limit: 420 },
      encoding: { x, y: { value: 5 }, text: { field: "text" } },
    },
  ];
}

function wholeTicks(highest: number): number[] {
  return roundTicks(highest, 4).filter((tick) => Number.isInteger(tick));
}
