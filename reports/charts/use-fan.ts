import type { TopLevelSpec } from "vega-lite";
import type { SparesPart } from "../../src/questions/spares-answer.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG, SMALL_TITLE } from "./chart-theme.ts";
import { type Pickable, pickingOf } from "./picking.ts";
import type { Layer, Position } from "./spec-types.ts";

const HEIGHT = 130;
const PICKS: Pickable[] = [{ kind: "part", field: "part" }];
/** Months between the marks of the axis, of which it has room for about four. */
const MARKS = 4;

export type UseFan = Pick<SparesPart, "part" | "byMonth" | "past"> & {
  level: number;
  /** Marks of the axis of pieces, the last one its end. */
  ticks: number[];
};

/** Pieces used from now on, summed month by month: a step a month with its median and two ranges, and the rate of the past as a line. */
export function useFan({ part, byMonth, past, level, ticks }: UseFan): TopLevelSpec {
  const months = byMonth.length;
  const every = Math.max(1, Math.ceil(months / MARKS));
  const named = byMonth.map(({ month }, at) => ({ at: at + 1, month })).filter(({ at }) => at % every === 0);
  const x: Position = {
    field: "from",
    type: "quantitative",
    title: null,
    scale: { domain: [0, months], nice: false, zero: false },
    axis: {
      values: named.map(({ at }) => at),
      labelExpr: `${JSON.stringify(Object.fromEntries(named.map(({ at, month }) => [at, month])))}[datum.value]`,
      labelAlign: "right",
      labelOverlap: true,
      grid: false,
    },
  };
  const y: Position = {
    field: "low",
    type: "quantitative",
    title: "Pieces",
    scale: { domain: [0, ticks.at(-1) ?? 1], nice: false },
    axis: { values: ticks, format: ",~r", ...SMALL_TITLE },
  };
  const values = byMonth.map(({ month, soFar, median, inner }, at) => ({
    ...{ from: at, to: at + 1, part, month, median },
    ...{ low: soFar.low ?? median, high: soFar.high ?? median, innerLow: inner.low, innerHigh: inner.high },
    words: `${inWords(inner.low)} to ${inWords(inner.high)}`,
    outer: `${inWords(soFar.low ?? median)} to ${inWords(soFar.high ?? median)}`,
  }));
  const tooltip = [
    { field: "month", title: "To the end of" },
    { field: "median", title: "Half use at most", format: "," },
    { field: "words", title: "80 %" },
    { field: "outer", title: `${100 * level} %` },
  ];
  const last = byMonth.at(-1);
  return {
    description: `${part}: pieces used over the next ${count(months, "month")}, summed: half of the futures use at most ${inWords(last?.median ?? 0)}, 80 % ${inWords(last?.inner.low ?? 0)} to ${inWords(last?.inner.high ?? 0)}.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: HEIGHT,
    layer: [
      {
        data: { values },
        mark: { type: "rect", color: COLOURS.ink, opacity: 0.14 },
        encoding: { x, x2: { field: "to" }, y, y2: { field: "high" }, tooltip },
      },
      {
        data: { values },
        mark: { type: "rect", color: COLOURS.ink, opacity: 0.2 },
        encoding: { x, x2: { field: "to" }, y: { ...y, field: "innerLow" }, y2: { field: "innerHigh" }, tooltip },
      },
      ...pastLayers(past, months, x, y),
      {
        data: { values },
        mark: { type: "rule", color: COLOURS.ink, strokeWidth: 2.5 },
        encoding: { x, x2: { field: "to" }, y: { ...y, field: "median" }, tooltip },
      },
    ],
  };
}

/** What the rate of the past would come to. */
function pastLayers(past: SparesPart["past"], months: number, x: Position, y: Position): Layer[] {
  if (past === null) return [];
  const values = [
    { from: 0, low: 0 },
    { from: months, low: (past.perYear * months) / 12 },
  ];
  return [
    {
      data: { values },
      mark: { type: "line", color: COLOURS.accent, strokeWidth: 1.25, strokeDash: [5, 4], clip: true },
      encoding: { x, y },
    },
  ];
}
