import type { TopLevelSpec } from "vega-lite";
import type { TimelineRow } from "../../src/questions/overview-types.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import type { Layer, Position } from "./spec-types.ts";

const ROW = 15;

/** Words, shape and weight of the mark for each way an installation ended. */
const ENDS = {
  failure: { words: "failure", shape: "triangle-down", stroke: COLOURS.accent, fill: COLOURS.accent },
  planned: { words: "planned", shape: "square", stroke: COLOURS.ink, fill: COLOURS.paper },
  unknown: { words: "reason unknown", shape: "cross", stroke: COLOURS.ink, fill: COLOURS.ink },
} as const;

/** What the rows of a timeline are: frames, or the positions that they ran at. */
export type TimelineOf = "unit" | "position";

/**
 * One row a unit: bars where it ran, gaps where it stood in the shop or on the shelf, a mark for each rebuild by its reason.
 * Of positions: bars where a frame ran there.
 */
export function unitTimeline(rows: TimelineRow[], title: string, of: TimelineOf = "unit"): TopLevelSpec {
  const values = rows.map((row) => ({
    ...row,
    position: row.position ?? "not recorded",
    start: Date.parse(row.start),
    stop: Date.parse(row.stop),
  }));
  const units = [...new Set(values.map((row) => row[of]))];
  const x: Position = {
    field: "start",
    type: "temporal",
    title: null,
    scale: { type: "utc", padding: 8 },
    axis: { orient: "top", grid: true, format: "%Y", tickCount: "year" },
  };
  const y: Position = {
    field: of,
    type: "nominal",
    sort: units,
    title: null,
    axis: { labelLimit: 110, domain: false, ticks: false, grid: true, gridColor: "#eceef0" },
  };
  const rebuilds = values.flatMap(({ ends, ...row }) => (ends === "end" ? [] : [{ ...row, reason: ENDS[ends].words }]));
  const kinds = Object.values(ENDS);
  const scale = <Key extends "shape" | "stroke" | "fill">(key: Key) => ({
    domain: kinds.map(({ words }) => words),
    range: kinds.map((kind) => kind[key]),
  });
  const legend = {
    orient: "top",
    title: "Rebuild for",
    titleOrient: "left",
    titleFontWeight: "normal",
    titleFontSize: 11,
    symbolSize: 60,
  } as const;
  // A layer without marks has no extent, which spoils the axis of the others.
  const marks: Layer = {
    data: { values: rebuilds },
    mark: { type: "point", size: 52, strokeWidth: 1.4, opacity: 1 },
    encoding: {
      x: { field: "stop", type: "temporal", title: null, scale: { type: "utc" } },
      y,
      shape: { field: "reason", type: "nominal", scale: scale("shape"), legend },
      stroke: { field: "reason", type: "nominal", scale: scale("stroke"), legend },
      fill: { field: "reason", type: "nominal", scale: scale("fill"), legend },
      tooltip: [
        { field: "unit", title: "Unit" },
        { field: "position", title: "Position" },
        { field: "stop", type: "temporal", title: "Removed", format: "%Y-%m-%d" },
        { field: "reason", title: "Rebuild for" },
      ],
    },
  };
  return {
    description: `${title}: a row for each of ${units.length} ${of}s, bars where ${of === "unit" ? "it was" : "a unit was"} installed, ${rebuilds.length} rebuilds marked by reason.`,
    config: CHART_CONFIG,
    height: Math.max(3, units.length) * ROW,
    layer: [
      {
        data: {
          values: values.map(({ ends, ...row }) => ({ ...row, status: row.assumedRunning ? "assumed running" : ends })),
        },
        mark: { type: "bar", height: 5 },
        encoding: {
          x,
          x2: { field: "stop" },
          y,
          fill: { condition: { test: "datum.assumedRunning", value: COLOURS.paper }, value: COLOURS.faint },
          stroke: { value: COLOURS.faint },
          tooltip: [
            { field: "unit", title: "Unit" },
            { field: "position", title: "Position" },
            { field: "start", type: "temporal", title: "Installed", format: "%Y-%m-%d" },
            { field: "stop", type: "temporal", title: "Until", format: "%Y-%m-%d" },
            { field: "status", title: "Ended by" },
          ],
        },
      },
      ...(rebuilds.length === 0 ? [] : [marks]),
    ],
  };
}
