import type { TopLevelSpec } from "vega-lite";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { LABEL_ROOM } from "./label-room.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import { ratioAxis } from "./ratio-axis.ts";
import { shortLabel } from "./short-label.ts";
import type { Layer, Position } from "./spec-types.ts";

const ROW = 34;
/** Contrasts that a page has room for. */
export const MOST_CONTRASTS = 20;
const LABEL = 34;
const PICKS: Pickable[] = [{ kind: "band", field: "bands" }];

type Ratio = { estimate: number | null; low: number | null; high: number | null };
export type ContrastRow = {
  name: string;
  /** Bands that it sets against each other, by their names; none where it is of two values. */
  bands: string[];
  crude: Ratio;
  adjusted: Ratio;
};

/** Ratios of lives with nothing and with all else held alike, one above the other for each contrast. */
export function crudeAndAdjusted(
  rows: ContrastRow[],
  { title, level, matters }: { title: string; level: number; matters: number },
): TopLevelSpec {
  const shown = rows.slice(0, MOST_CONTRASTS);
  const height = Math.max(1, shown.length) * ROW;
  const known = shown.flatMap(({ crude, adjusted }) => [crude, adjusted]).filter(({ estimate }) => estimate !== null);
  const ends = known.flatMap(({ estimate, low, high }) => [estimate!, low ?? estimate!, high ?? estimate!]);
  const { domain, ticks } = ratioAxis([...ends, 1], [...known.map(({ estimate }) => estimate!), 1]);
  const x = (field: string): Position => ({
    field,
    type: "quantitative",
    title: "Times as long",
    scale: { type: "log", domain },
    axis: { values: ticks, format: "~r" },
  });
  const y: Position = {
    field: "base",
    type: "quantitative",
    title: null,
    scale: { domain: [height, 0], nice: false, zero: false },
    axis: {
      values: shown.map((_, at) => (at + 0.5) * ROW),
      labelExpr: `${JSON.stringify(Object.fromEntries(shown.map(({ name }, at) => [(at + 0.5) * ROW, shortLabel(name, LABEL)])))}[datum.value]`,
      labelLimit: LABEL_ROOM,
      labelColor: COLOURS.ink,
      labelOverlap: false,
      labelPadding: 7,
      domain: false,
      ticks: false,
      grid: false,
    },
  };
  const within = (value: number) => Math.min(Math.max(value, domain[0]), domain[1]);
  const placed = (of: "crude" | "adjusted", off: number) =>
    shown.flatMap(({ name, bands, [of]: { estimate, low, high } }, at) =>
      estimate === null
        ? []
        : [
            {
              name,
              bands,
              base: (at + 0.5) * ROW + off,
              shown: within(estimate),
              from: within(low ?? domain[0]),
              to: within(high ?? domain[1]),
              estimate,
              low,
              high,
              held: of === "crude" ? "nothing held alike" : "all else alike",
            },
          ],
    );
  return {
    description: `${title}: ratios of lives with ${100 * level} % limits, crude and with all else alike: ${shown
      .slice(0, 8)
      .map(({ name, crude, adjusted }) => `${name} ${words(crude)} and ${words(adjusted)}`)
      .join("; ")}.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height,
    layer: [
      {
        data: { values: [{ low: within(1 / matters), high: within(matters) }] },
        mark: { type: "rect", color: COLOURS.hair, opacity: 0.6 },
        encoding: { x: x("low"), x2: { field: "high" } },
      },
      { data: { values: [{ one: 1 }] }, mark: { type: "rule", color: COLOURS.faint }, encoding: { x: x("one") } },
      ...bars(placed("crude", -ROW / 6), COLOURS.faint, x, y, false),
      ...bars(placed("adjusted", ROW / 6), COLOURS.ink, x, y, true),
    ],
  };
}

function bars(
  values: { base: number; shown: number }[],
  colour: string,
  x: (field: string) => Position,
  y: Position,
  filled: boolean,
): Layer[] {
  const tooltip = [
    { field: "name", title: "Lives" },
    { field: "held", title: "With" },
    { field: "estimate", title: "Times as long", format: ".3~r" },
    { field: "low", title: "Lower limit", format: ".3~r" },
    { field: "high", title: "Upper limit", format: ".3~r" },
  ];
  return [
    {
      data: { values },
      mark: { type: "rule", color: colour, strokeWidth: 2 },
      encoding: { x: x("from"), x2: { field: "to" }, y, ...unlessPicked(PICKS), tooltip },
    },
    {
      data: { values },
      mark: {
        type: "point",
        shape: "circle",
        stroke: colour,
        fill: filled ? colour : COLOURS.paper,
        size: 55,
      },
      encoding: { x: x("shown"), y, ...unlessPicked(PICKS), tooltip },
    },
  ];
}

function words({ estimate, low, high }: Ratio): string {
  if (estimate === null) return "not known";
  return `${estimate.toPrecision(3)} (${low?.toPrecision(3) ?? "?"} to ${high?.toPrecision(3) ?? "?"})`;
}
