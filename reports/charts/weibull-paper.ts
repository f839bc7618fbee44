import type { TopLevelSpec } from "vega-lite";
import type { LifeGroup } from "../../src/questions/answer.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import { roundLogTicks } from "../../src/questions/round-ticks.ts";
import { count, inWords, withLimits } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import type { Layer, Position } from "./spec-types.ts";
import { thin } from "./thin.ts";

const HEIGHT = 300;
const STRIP = 38;
const GRID = [0.001, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.9, 0.99, 0.999];

/** What is shared by all papers of a page, so that they can be read against each other. */
export type PaperRange = { time: [number, number]; failed: [number, number] };

export type PaperRows = {
  title: string;
  timeTitle: string;
  level: number;
  range: PaperRange;
  /** None where lives are known by an interval only. */
  points: LifeGroup["paper"];
  /** First and last age at failure, between which the line rests on records. */
  seen: [number, number] | null;
  line: LifeGroup["line"];
  l10: Estimate;
  unfailed: { time: number; running: boolean }[];
};

/**
 * Weibull probability paper: log age against log(-log(1 - failed)), on which a Weibull law is a straight line.
 * The failures stand at their plotting positions; lives that did not fail are ticks under the paper.
 */
export function weibullPaper(rows: PaperRows): TopLevelSpec {
  const { range, timeTitle } = rows;
  const x: Position = {
    field: "time",
    type: "quantitative",
    title: timeTitle,
    scale: { type: "log", domain: range.time, nice: false },
    axis: { values: roundLogTicks(...range.time), format: ",~r" },
  };
  return {
    description: describe(rows),
    config: CHART_CONFIG,
    height: HEIGHT,
    layer: [...lineLayers(rows, x), ...l10Layers(rows, x), pointLayer(rows, x), ...unfailedLayers(rows, x)],
  };
}

/** Height of a fraction on the paper. */
function paperHeight(failed: number): number {
  return Math.log(-Math.log1p(-Math.min(Math.max(failed, 1e-7), 1 - 1e-12)));
}

function yOf(field: string, [low, high]: [number, number]): Position {
  const [from, to] = [paperHeight(low), paperHeight(high)];
  const strip = ((to - from) * STRIP) / (HEIGHT - STRIP);
  return {
    field,
    type: "quantitative",
    title: "Failed",
    scale: { domain: [from - strip, to], nice: false, zero: false },
    axis: {
      values: GRID.filter((failed) => failed >= low - 1e-9 && failed <= high + 1e-9).map(paperHeight),
      labelExpr: "format(100 * (1 - exp(-exp(datum.value))), '.3~r') + ' %'",
    },
  };
}

/** The fitted line with its band; beyond the failures both are fainter, for there the law alone speaks. Cut above the row of ticks. */
function lineLayers({ line, seen, range }: PaperRows, x: Position): Layer[] {
  const [from, to] = seen ?? [0, 0];
  const floor = range.failed[0];
  const inside = line.filter(({ time }) => time >= from * (1 - 1e-9) && time <= to * (1 + 1e-9));
  const after = line.filter(({ time }) => time >= (inside.at(-1)?.time ?? to));
  const band = (part: LifeGroup["line"], opacity: number): Layer => ({
    data: {
      values: part
        .filter(({ low, high }) => low !== null && high !== null && high >= floor)
        .map(({ time, low, high }) => ({
          time,
          low: paperHeight(Math.max(low ?? 0, floor)),
          high: paperHeight(high ?? 1),
        })),
    },
    mark: { type: "area", clip: true, color: COLOURS.ink, opacity },
    encoding: { x, y: yOf("low", range.failed), y2: { field: "high" } },
  });
  const stroke = (part: LifeGroup["line"], strokeDash: number[]): Layer => ({
    data: {
      values: part
        .filter(({ fractionFailed }) => fractionFailed >= floor)
        .map(({ time, fractionFailed }) => ({ time, y: paperHeight(fractionFailed) })),
    },
    mark: { type: "line", clip: true, color: COLOURS.ink, strokeWidth: 1.75, strokeDash },
    encoding: { x, y: yOf("y", range.failed) },
  });
  return [band(inside, 0.14), band(after, 0.06), stroke(inside, [1, 0]), stroke(after, [4, 3])].filter(hasRows);
}

function hasRows(layer: Layer): boolean {
  const data = (layer as { data?: { values?: unknown[] } }).data;
  return (data?.values?.length ?? 0) > 0;
}

/** L10 with its limits, as a bar at 10 % failed. Its label stands under the line, or above it where the paper ends soon. */
function l10Layers({ l10, range }: PaperRows, x: Position): Layer[] {
  if (l10.estimate === null) return [];
  const [from, to] = range.time;
  const clamp = (time: number) => Math.min(Math.max(time, from), to);
  const low = clamp(l10.low ?? l10.estimate);
  const high = clamp(l10.high ?? l10.estimate);
  const late = Math.log(high / from) > 0.7 * Math.log(to / from);
  const values = [{ time: low, high, y: paperHeight(0.1), text: `L10 ${inWords(l10.estimate)}` }];
  const y = yOf("y", range.failed);
  return [
    {
      data: { values },
      mark: { type: "rule", color: COLOURS.accent, strokeWidth: 3, clip: true },
      encoding: { x, x2: { field: "high" }, y },
    },
    {
      data: { values },
      mark: {
        type: "text",
        color: COLOURS.accent,
        fontWeight: 600,
        align: late ? "right" : "left",
        baseline: late ? "bottom" : "top",
        dx: late ? -5 : 5,
        dy: late ? -4 : 4,
      },
      encoding: { x: { ...x, field: late ? "time" : "high" }, y, text: { field: "text" } },
    },
  ];
}

function pointLayer({ points, range }: PaperRows, x: Position): Layer {
  const shown = thin(points, ({ time }) => Math.log(time));
  return {
    data: {
      values: shown.map(({ time, fractionFailed }) => ({
        time,
        y: paperHeight(fractionFailed),
        failed: fractionFailed,
      })),
    },
    mark: {
      type: "point",
      filled: false,
      size: 34,
      strokeWidth: 1.6,
      color: COLOURS.accent,
      fill: COLOURS.paper,
      clip: true,
    },
    encoding: {
      x,
      y: yOf("y", range.failed),
      tooltip: [
        { field: "time", title: "Failed at", format: ",.1~f" },
        { field: "failed", title: "Share failed", format: ".1%" },
      ],
    },
  };
}

function unfailedLayers({ unfailed, range }: PaperRows, x: Position): Layer[] {
  const rows = [
    { words: "removed", place: HEIGHT - 22, of: unfailed.filter(({ running }) => !running) },
    { words: "running", place: HEIGHT - 8, of: unfailed.filter(({ running }) => running) },
  ].filter(({ of }) => of.length > 0);
  return rows.flatMap(({ words, place, of }): Layer[] => [
    {
      data: {
        values: thin(
          of.map(({ time }) => ({ time: Math.max(time, range.time[0]) })).toSorted((a, b) => a.time - b.time),
          ({ time }) => Math.log(time),
          200,
        ),
      },
      mark: { type: "tick", orient: "vertical", size: 10, thickness: 1, color: COLOURS.soft },
      encoding: {
        x,
        y: { value: place },
        tooltip: [
          { field: "time", title: words === "running" ? "Still running at" : "Removed unfailed at", format: ",.1~f" },
        ],
      },
    },
    {
      data: { values: [{ words }] },
      mark: { type: "text", align: "right", baseline: "middle", color: COLOURS.soft, fontSize: 10.5 },
      encoding: { x: { value: -6 }, y: { value: place }, text: { field: "words" } },
    },
  ]);
}

function describe({ title, timeTitle, points, unfailed, level, l10 }: PaperRows): string {
  return `Weibull probability paper of ${title}: ${count(points.length, "failure")} as circles against ${timeTitle.toLowerCase()}, fitted line with pointwise ${100 * level} % band, ${unfailed.length} lives without failure as ticks under it. L10: ${withLimits(l10, "")}.`;
}
