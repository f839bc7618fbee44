import type { TopLevelSpec } from "vega-lite";
import type { Estimate } from "../../src/questions/estimate.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { LABEL_ROOM } from "./label-room.ts";
import { logTimeAxis } from "./log-time-axis.ts";
import type { Layer, Position } from "./spec-types.ts";

const ROW = 42;

export type RatedRows = {
  title: string;
  timeTitle: string;
  level: number;
  seen: Estimate;
  /** Catalogue lives, each with its name; those that are not known are left out. */
  rated: { name: string; life: number | null }[];
};

/** The L10 seen, with its interval, over catalogue lives on one logarithmic axis. */
export function ratedLife({ title, timeTitle, level, seen, rated }: RatedRows): TopLevelSpec {
  const name = "L10 seen here";
  const known = rated.flatMap(({ name, life }) => (life === null ? [] : [{ name, life }]));
  const [from, to] = span([seen.low, seen.estimate, seen.high, ...known.map(({ life }) => life)]);
  const within = (age: number) => Math.min(Math.max(age, from), to);
  const x = logTimeAxis(timeTitle, [from, to]);
  const y: Position = {
    field: "name",
    type: "nominal",
    sort: [...(seen.estimate === null ? [] : [name]), ...known.map(({ name }) => name)],
    title: null,
    axis: {
      labelLimit: LABEL_ROOM,
      labelColor: COLOURS.ink,
      labelFontSize: 11.5,
      labelPadding: 6,
      domain: false,
      ticks: false,
      grid: true,
    },
  };
  const row = (estimate: number) => ({
    name,
    time: within(estimate),
    low: within(seen.low ?? from),
    high: within(seen.high ?? to),
    text: inWords(estimate),
    words: withLimits(seen, ""),
  });
  const own = seen.estimate === null ? [] : [row(seen.estimate)];
  const catalogue = known.map(({ name, life }) => ({ name, time: life, text: inWords(life) }));
  return {
    description: `Life seen against catalogue life, ${title}: L10 seen ${withLimits(seen, "")}, with its ${100 * level} % interval; ${known.map(({ name, life }) => `${name} ${inWords(life)}`).join(", ")}.`,
    config: CHART_CONFIG,
    height: ROW * (own.length + catalogue.length),
    layer: [...seenLayers(own, x, y), ...catalogueLayers(catalogue, x, y)],
  };
}

function seenLayers(values: object[], x: Position, y: Position): Layer[] {
  if (values.length === 0) return [];
  const data = { values };
  const color = COLOURS.accent;
  const tooltip = [{ field: "words", title: "L10 seen" }];
  return [
    {
      data,
      mark: { type: "rule", strokeWidth: 2.5, color },
      encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y, tooltip },
    },
    { data, mark: { type: "point", filled: true, size: 70, color, opacity: 1 }, encoding: { x, y, tooltip } },
    {
      data,
      mark: { type: "text", yOffset: -12, fontSize: 10.5, color },
      encoding: { x, y, text: { field: "text" } },
    },
  ];
}

function catalogueLayers(values: object[], x: Position, y: Position): Layer[] {
  if (values.length === 0) return [];
  const data = { values };
  return [
    {
      data,
      mark: {
        type: "point",
        shape: "diamond",
        size: 80,
        strokeWidth: 1.6,
        stroke: COLOURS.ink,
        fill: COLOURS.paper,
        opacity: 1,
      },
      encoding: {
        x,
        y,
        tooltip: [
          { field: "name", title: "Catalogue" },
          { field: "text", title: "Hours" },
        ],
      },
    },
    {
      data,
      mark: { type: "text", yOffset: -13, fontSize: 10.5, color: COLOURS.ink },
      encoding: { x, y, text: { field: "text" } },
    },
  ];
}

/** All that is known, with room for the figures at both ends. */
function span(ages: (number | null)[]): [number, number] {
  const known = ages.filter((age): age is number => age !== null && age > 0);
  if (known.length === 0) return [1, 10];
  const [low, high] = [Math.min(...known), Math.max(...known)];
  const room = Math.max(1.15, (high / low) ** 0.08);
  return [low / room, high * room];
}
