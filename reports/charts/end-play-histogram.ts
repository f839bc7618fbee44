import type { TopLevelSpec } from "vega-lite";
import type { Bin } from "../../src/questions/reading-bins.ts";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { count } from "../../src/questions/wording.ts";
import { binWords } from "../text/bin-words.ts";
import { usualWords } from "../text/usual-words.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import type { Layer, Position } from "./spec-types.ts";

/** A line of words over the bars. */
const LINE = 15;
const PICKS: Pickable[] = [{ kind: "reading", field: "reading" }];

export type HistogramRows = {
  title: string;
  /** Of the readings; empty where they have none. */
  unit: string;
  bins: Bin[];
  /** Edges of the window in `unit`, and its lines of words: as stated, and whose it is. */
  window: { low: number; high: number; words: string[] } | null;
  /** What is usual by the readings themselves; drawn another way than the window, for it is not what is right. */
  usual: { low: number; high: number } | null;
  /** In pixels. */
  height: number;
};

/**
 * As-built end play as bars; broken lines are the edges of the window, a pale strip is what is usual by the readings themselves. What lies
 * outside the window stands on top, in the accent colour, dark where all is printed in grey.
 */
export function endPlayHistogram({ title, unit, bins, window, usual, height }: HistogramRows): TopLevelSpec {
  const lowest = bins[0]?.from ?? 0;
  const low = Math.min(lowest, window?.low ?? lowest, usual === null ? lowest : Math.max(usual.low, 0));
  const high = Math.max(bins.at(-1)?.to ?? 1, window?.high ?? 0, usual?.high ?? 0);
  const room = (high - low) * 0.05;
  const domain: [number, number] = [low - room, high + room];
  const highest = Math.max(...bins.map(({ inside, outside }) => inside + outside), 1);
  const lines = (window?.words.length ?? 0) + (usual === null ? 0 : 1);
  const x: Position = {
    field: "from",
    type: "quantitative",
    title: unit === "" ? "End play as built" : `End play as built (${unit})`,
    scale: { domain, nice: false, zero: false },
    axis: { format: ",~r", grid: false, tickCount: 8 },
  };
  const y: Position = {
    field: "top",
    type: "quantitative",
    title: "Builds",
    scale: { domain: [0, highest / (1 - (lines * LINE + 22) / height)], nice: false },
    axis: { values: roundTicks(highest, 4).filter((tick) => Number.isInteger(tick) && tick <= highest) },
  };
  const values = bins.flatMap((bin) => {
    const { from, to, inside, outside } = bin;
    const own = { from, to, reading: binWords(bin, unit) };
    return [
      { ...own, base: 0, top: inside, builds: inside, place: window === null ? "built" : "inside the window" },
      { ...own, base: inside, top: inside + outside, builds: outside, place: "outside the window" },
    ];
  });
  return {
    description: descriptionOf({ title, unit, bins, window, usual }),
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height,
    layer: [
      ...usualLayers(usual, unit, { x, domain, height }),
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
          ...unlessPicked(PICKS),
          tooltip: [
            { field: "from", title: inUnit("From", unit), format: ",.4~r" },
            { field: "to", title: inUnit("To", unit), format: ",.4~r" },
            { field: "builds", title: "Builds", format: "," },
            { field: "place", title: "Place" },
          ],
        },
      },
      ...windowLayers(window, { x, height, top: usual === null ? 0 : LINE }),
    ],
  };
}

function descriptionOf({ title, unit, bins, window, usual }: Omit<HistogramRows, "height">): string {
  const readings = bins.reduce((sum, { inside, outside }) => sum + inside + outside, 0);
  const out = bins.reduce((sum, { outside }) => sum + outside, 0);
  const parts = [
    count(readings, "reading"),
    ...(window === null ? [] : [`${out} of them outside the window of ${window.words.join(", ")}`]),
    ...(usual === null ? [] : [`usual by the readings themselves: ${usualWords(usual, unit)}`]),
  ];
  return `As-built end play, ${title}: ${parts.join("; ")}.`;
}

function inUnit(name: string, unit: string): string {
  return unit === "" ? name : `${name} (${unit})`;
}

function usualLayers(
  usual: HistogramRows["usual"],
  unit: string,
  { x, domain, height }: { x: Position; domain: [number, number]; height: number },
): Layer[] {
  if (usual === null) return [];
  const strip = { from: Math.max(usual.low, domain[0]), to: Math.min(usual.high, domain[1]) };
  return [
    {
      data: { values: [strip] },
      mark: { type: "rect", color: COLOURS.ink, opacity: 0.09 },
      encoding: { x, x2: { field: "to" }, y: { value: 0 }, y2: { value: height } },
    },
    {
      data: { values: [{ from: (strip.from + strip.to) / 2, text: `usual: ${usualWords(usual, unit)}` }] },
      mark: { type: "text", baseline: "top", color: COLOURS.soft, fontStyle: "italic" },
      encoding: { x, y: { value: 5 }, text: { field: "text" } },
    },
  ];
}

/** @param place - `top`: where its words begin */
function windowLayers(
  window: HistogramRows["window"],
  { x, height, top }: { x: Position; height: number; top: number },
): Layer[] {
  if (window === null) return [];
  const [words = "", ...more] = window.words;
  const bracket = top + window.words.length * LINE + 8;
  return [
    {
      data: { values: [{ from: window.low }, { from: window.high }] },
      mark: { type: "rule", color: COLOURS.ink, strokeWidth: 1.5, strokeDash: [5, 3] },
      encoding: { x, y: { value: bracket }, y2: { value: height } },
    },
    {
      data: { values: [{ from: window.low, to: window.high }] },
      mark: { type: "rule", color: COLOURS.ink, strokeWidth: 1.5 },
      encoding: { x, x2: { field: "to" }, y: { value: bracket } },
    },
    {
      data: { values: [{ from: (window.low + window.high) / 2, text: [`window ${words}`, ...more] }] },
      mark: { type: "text", baseline: "top", lineHeight: 14, color: COLOURS.ink, limit: 420 },
      encoding: { x, y: { value: top + 5 }, text: { field: "text" } },
    },
  ];
}
