import type { TopLevelSpec } from "vega-lite";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import type { MeanCountStep } from "../../src/stats/recurrence/mean-count.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { GROUP_LINES } from "./group-lines.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import { shortLabel } from "./short-label.ts";
import type { Layer, Position } from "./spec-types.ts";
import { spreadApart } from "./spread-apart.ts";
import { thin } from "./thin.ts";

const HEIGHT = 300;
const NAME = 13;
const PICKS: Pickable[] = [{ kind: "group", field: "name" }];

/** Groups that can be told apart in one picture. */
export const MOST_CURVES = GROUP_LINES.length;

export type GroupCurve = { name: string; units: number; steps: MeanCountStep[] };

/** Mean cumulative number of rebuilds a unit by service, group beside group. */
export function meanCountByGroup(
  groups: GroupCurve[],
  { title, timeTitle, level }: { title: string; timeTitle: string; level: number },
): TopLevelSpec {
  const shown = groups.slice(0, MOST_CURVES);
  const ages = roundTicks(Math.max(...shown.map(({ steps }) => steps.at(-1)?.time ?? 0)), 8);
  const highest = Math.max(...shown.map(({ steps }) => steps.at(-1)?.estimate ?? 0));
  const highs = shown.flatMap(({ steps }) => steps.map(({ high, estimate }) => high ?? estimate));
  // One step with very wide limits would flatten the curves.
  const top = roundTicks(
    Math.min(
      highs.reduce((most, high) => Math.max(most, high), 0),
      1.5 * highest,
    ),
    5,
  );
  // Room at the right for the names.
  const end = Math.max(ages.at(-1) ?? 1, 1.16 * Math.max(...shown.map(({ steps }) => steps.at(-1)?.time ?? 0)));
  const x: Position = {
    field: "time",
    type: "quantitative",
    title: timeTitle,
    scale: { domain: [0, end], nice: false },
    axis: { values: ages, format: ",~r" },
  };
  const y: Position = {
    field: "estimate",
    type: "quantitative",
    title: "Rebuilds a unit",
    scale: { domain: [0, top.at(-1) ?? 1], nice: false },
    axis: { values: top, format: ",~r" },
  };
  return {
    description: `Mean cumulative number of rebuilds a unit by service watched, ${title}, with pointwise ${100 * level} % limits: ${shown.map(({ name, steps }) => `${name} ${(steps.at(-1)?.estimate ?? 0).toFixed(1)} at the end`).join("; ")}.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: HEIGHT,
    layer: [
      ...shown.flatMap((group, place) => curveLayers(group, place, x, y)),
      ...nameLayers(shown, top.at(-1) ?? 1, x, y),
    ],
  };
}

function curveLayers({ name, steps }: GroupCurve, place: number, x: Position, y: Position): Layer[] {
  const { color, dash, width } = GROUP_LINES[place]!;
  const rows = thin(steps, ({ time }) => time, 50).map((step) => ({ ...step, name }));
  const from = { name, time: 0, estimate: 0, low: 0, high: 0, underObservation: steps[0]?.underObservation ?? 0 };
  return [
    {
      data: { values: rows.filter(({ low, high }) => low !== null && high !== null) },
      mark: { type: "area", interpolate: "step-after", color, clip: true },
      encoding: { x, y: { ...y, field: "low" }, y2: { field: "high" }, ...unlessPicked(PICKS, 0.1) },
    },
    {
      data: { values: [from, ...rows] },
      mark: { type: "line", interpolate: "step-after", color, strokeWidth: width, strokeDash: [...dash] },
      encoding: { x, y, ...unlessPicked(PICKS) },
    },
    {
      data: { values: rows },
      mark: { type: "point", filled: true, size: 40, color, opacity: 0 },
      encoding: {
        x,
        y,
        tooltip: [
          { field: "name", title: "Group" },
          { field: "time", title: "Service", format: ",.1~f" },
          { field: "estimate", title: "Rebuilds a unit", format: ".3~r" },
          { field: "low", title: "Lower limit", format: ".3~r" },
          { field: "high", title: "Upper limit", format: ".3~r" },
          { field: "underObservation", title: "Units watched", format: "," },
        ],
      },
    },
  ];
}

/** Names at the ends, each on a strip of paper, for other curves may run there. */
function nameLayers(groups: GroupCurve[], top: number, x: Position, y: Position): Layer[] {
  const ends = groups.map(({ name, steps }) => ({
    name: shortLabel(name, 18),
    time: steps.at(-1)?.time ?? 0,
    height: HEIGHT * (1 - (steps.at(-1)?.estimate ?? 0) / top),
  }));
  const places = spreadApart(
    ends.map(({ height }) => height),
    NAME,
    0,
    HEIGHT,
  );
  const values = ends.map(({ name, time }, at) => ({ name, time, estimate: top * (1 - places[at]! / HEIGHT) }));
  const text = { type: "text", align: "left", dx: 6, baseline: "middle", fontSize: 11 } as const;
  const encoding = { x, y, text: { field: "name" } } as const;
  return [
    { data: { values }, mark: { ...text, stroke: COLOURS.paper, strokeWidth: 4, opacity: 0.9 }, encoding },
    { data: { values }, mark: { ...text, color: COLOURS.ink }, encoding },
  ];
}
