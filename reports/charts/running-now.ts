import type { TopLevelSpec } from "vega-lite";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { LABEL_ROOM } from "./label-room.ts";
import { pickingOf, unlessPicked } from "./picking.ts";
import { shortLabel } from "./short-label.ts";
import type { Position } from "./spec-types.ts";

const ROW = 21;
/** Signs of a unit and its position that fit beside the rows. */
const LABEL = 24;

/** Rows that can be read at a glance. */
export const MOST_RUNNING = 25;

/** Frames and places can be picked. */
const PICKS = [
  { kind: "unit", field: "unit" },
  { kind: "position", field: "position" },
] as const;

export type RunningRow = {
  label: string;
  unit: string | null;
  position: string | null;
  /** The age, as text beside the label. */
  age: string;
  estimate: number;
  low: number | null;
  high: number | null;
};

export type RunningRows = {
  title: string;
  /** What the chance is of, as the axis says it. */
  chanceOf: string;
  level: number;
  /** Lowest chance first; at most `MOST_RUNNING` are drawn. */
  rows: RunningRow[];
};

/** For each running life the chance to run on unfailed, with its limits: those to worry about stand at the top. */
export function runningNow({ title, chanceOf, level, rows }: RunningRows): TopLevelSpec {
  // The same unit may run in several places of one slot: rows are told apart by their number, which no label shows.
  const shown = rows.slice(0, MOST_RUNNING).map((row, index) => ({
    ...row,
    row: index,
    low: row.low ?? row.estimate,
    high: row.high ?? row.estimate,
  }));
  const x: Position = {
    field: "estimate",
    type: "quantitative",
    title: chanceOf,
    scale: { domain: [0, 1] },
    axis: { format: ".0%", values: [0, 0.25, 0.5, 0.75, 1], orient: "top", titleAnchor: "end" },
  };
  const y: Position = {
    field: "row",
    type: "nominal",
    sort: null,
    title: null,
    axis: {
      labelExpr: `${JSON.stringify(shown.map(({ label, age }) => `${shortLabel(label, LABEL)}, ${age}`))}[datum.value]`,
      labelLimit: LABEL_ROOM,
      labelPadding: 6,
      labelColor: COLOURS.ink,
      domain: false,
      ticks: false,
      grid: true,
    },
  };
  const tooltip = [
    { field: "label", title: "Unit" },
    { field: "age", title: "Age" },
    { field: "estimate", title: "Chance", format: ".1%" },
    { field: "low", title: "Lower limit", format: ".1%" },
    { field: "high", title: "Upper limit", format: ".1%" },
  ];
  const data = { values: shown };
  const least = shown[0];
  return {
    description: `${chanceOf}, ${title}, with ${100 * level} % limits, lowest first: ${shown.length} of ${rows.length} running lives${least === undefined ? "" : `, from ${least.label} at ${Math.round(100 * least.estimate)} %`}.`,
    config: CHART_CONFIG,
    ...pickingOf([...PICKS]),
    height: Math.max(1, shown.length) * ROW,
    layer: [
      {
        data,
        mark: { type: "rule", strokeWidth: 2, color: COLOURS.soft },
        encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y, ...unlessPicked([...PICKS]), tooltip },
      },
      {
        data,
        mark: { type: "point", filled: true, size: 48, color: COLOURS.accent },
        encoding: { x, y, ...unlessPicked([...PICKS]), tooltip },
      },
    ],
  };
}
