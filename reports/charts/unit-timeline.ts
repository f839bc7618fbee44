import type { TopLevelSpec } from "vega-lite";
import type { TimelineRow } from "../../src/questions/overview-types.ts";
import { count } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { heavyIfPicked, type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import type { Layer, Position } from "./spec-types.ts";

const ROW = 15;
/** The key to the marks: over the axis, at so many pixels each. */
const KEY = { y: -30, at: [6, 64, 130] } as const;

/** Words, shape and weight of the mark for each way an installation ended. */
const ENDS = {
  failure: { words: "failure", shape: "triangle-down", stroke: COLOURS.accent, fill: COLOURS.accent },
  planned: { words: "planned", shape: "square", stroke: COLOURS.ink, fill: COLOURS.paper },
  unknown: { words: "reason unknown", shape: "cross", stroke: COLOURS.ink, fill: COLOURS.ink },
} as const;

/** Marks of the key, beside a bar and a mark for each build. */
export const KEY_MARKS = 2 * Object.keys(ENDS).length;

/** What the rows of a timeline are: frames, or the positions that they ran at. */
export type TimelineOf = "unit" | "position";

/**
 * One row a unit: bars where it ran, gaps where it stood in the shop or on the shelf, a mark for each rebuild by its reason.
 * Of positions: bars where a frame ran there.
 */
export function unitTimeline(rows: TimelineRow[], title: string, of: TimelineOf = "unit"): TopLevelSpec {
  const values = rows.map((row) => ({
    ...row,
    where: row.position ?? "not recorded",
    start: Date.parse(row.start),
    stop: Date.parse(row.stop),
  }));
  const names = [...new Set(values.map((row) => row[of]))];
  // A click picks what the row is; the other is picked where it runs through several rows.
  const picks: Pickable[] = [of, of === "unit" ? ("position" as const) : ("unit" as const)].map((kind) => ({
    kind,
    field: kind,
  }));
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
    scale: { domain: names },
    title: null,
    axis: {
      labelLimit: 110,
      labelFontWeight: heavyIfPicked(of, "datum.value"),
      domain: false,
      ticks: false,
      grid: true,
      gridColor: COLOURS.hair,
      gridOpacity: 0.6,
    },
  };
  const bars = values.map(({ ends, ...row }) => ({ ...row, status: row.assumedRunning ? "assumed running" : ends }));
  const rebuilds = values.flatMap(({ ends, ...row }) => (ends === "end" ? [] : [{ ...row, ends }]));
  return {
    description: descriptionOf(values, title, of, names.length),
    config: CHART_CONFIG,
    ...pickingOf(picks),
    height: Math.max(3, names.length) * ROW,
    layer: [
      {
        data: { values: bars },
        mark: { type: "bar", height: 5 },
        encoding: {
          x,
          x2: { field: "stop" },
          y,
          fill: { condition: { test: "datum.assumedRunning", value: COLOURS.paper }, value: COLOURS.faint },
          stroke: { value: COLOURS.faint },
          ...unlessPicked(picks),
          tooltip: [
            { field: "unit", title: "Unit" },
            { field: "where", title: "Position" },
            { field: "start", type: "temporal", title: "Installed", format: "%Y-%m-%d" },
            { field: "stop", type: "temporal", title: "Until", format: "%Y-%m-%d" },
            { field: "status", title: "Ended by" },
          ],
        },
      },
      ...(["failure", "planned", "unknown"] as const).flatMap((reason): Layer[] => {
        const own = rebuilds
          .filter(({ ends }) => ends === reason)
          .map((row) => ({ ...row, reason: ENDS[reason].words }));
        // A layer without marks has no extent, which spoils the axis of the others.
        return own.length === 0 ? [] : [endLayer(reason, own, y, picks)];
      }),
      ...keyLayers(),
    ],
  };
}

function endLayer(reason: keyof typeof ENDS, values: object[], y: Position, picks: Pickable[]): Layer {
  const { shape, stroke, fill } = ENDS[reason];
  return {
    data: { values },
    mark: { type: "point", size: 52, strokeWidth: 1.4, shape, stroke, fill },
    encoding: {
      x: { field: "stop", type: "temporal", title: null, scale: { type: "utc" } },
      y,
      ...unlessPicked(picks),
      tooltip: [
        { field: "unit", title: "Unit" },
        { field: "where", title: "Position" },
        { field: "stop", type: "temporal", title: "Removed", format: "%Y-%m-%d" },
        { field: "reason", title: "Rebuild for" },
      ],
    },
  };
}

/** What each mark says, in a line over the years. */
function keyLayers(): Layer[] {
  const kinds = Object.values(ENDS).map((kind, place) => ({ ...kind, at: KEY.at[place]! }));
  return [
    ...kinds.map(
      ({ at, shape, stroke, fill }): Layer => ({
        data: { values: [{ at }] },
        mark: { type: "point", size: 52, strokeWidth: 1.4, shape, stroke, fill, opacity: 1 },
        encoding: { x: { value: at }, y: { value: KEY.y } },
      }),
    ),
    {
      data: { values: kinds.map(({ at, words }) => ({ at, words })) },
      mark: { type: "text", align: "left", baseline: "middle", dx: 8, color: COLOURS.soft },
      encoding: { x: { value: { expr: "datum.at" } }, y: { value: KEY.y }, text: { field: "words" } },
    },
  ];
}

function descriptionOf(rows: Pick<TimelineRow, "ends">[], title: string, of: TimelineOf, names: number): string {
  const ended = (how: TimelineRow["ends"]) => rows.filter(({ ends }) => ends === how).length;
  return `${title}: a row for each of ${count(names, of)}, bars where ${of === "unit" ? "it was" : "a unit was"} installed; rebuilds marked by reason: ${ended("failure")} for failure, ${ended("planned")} planned, ${ended("unknown")} of unknown reason.`;
}
