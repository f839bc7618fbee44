import type { TopLevelSpec } from "vega-lite";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import type { BacktestWindow } from "../../src/questions/spares-backtest-answer.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { dayTicks } from "./day-ticks.ts";
import type { Position } from "./spec-types.ts";

const HEIGHT = 220;
/** Half a bar, in steps from one forecast to the next. */
const HALF = 0.3;

/** Past forecasts as bars of two ranges, by the day they were made, and what came. */
export function forecastAgainstUse({ windows, months }: { windows: BacktestWindow[]; months: number }): TopLevelSpec {
  const ticks = roundTicks(
    windows.reduce((most, { used, expected }) => Math.max(most, used, expected.high ?? 0), 0),
    5,
  );
  const days = dayTicks(windows.map(({ origin }) => origin));
  const x: Position = {
    field: "at",
    type: "quantitative",
    title: "Forecast made on",
    scale: { domain: [-0.7, windows.length - 0.3], nice: false, zero: false },
    axis: {
      values: days.map(({ at }) => at),
      labelExpr: `${JSON.stringify(Object.fromEntries(days.map(({ at, words }) => [at, words])))}[datum.value]`,
      grid: false,
    },
  };
  const y: Position = {
    field: "low",
    type: "quantitative",
    title: `Frames opened in ${count(months, "month")}`,
    scale: { domain: [0, ticks.at(-1) ?? 1], nice: false },
    axis: { values: ticks, format: ",~r" },
  };
  const values = windows.map(({ origin, to, used, expected, inner, isApart }, at) => ({
    ...{ at, origin, to, used, isApart, mean: expected.estimate ?? 0 },
    ...{ low: expected.low ?? 0, high: expected.high ?? 0, innerLow: inner.low, innerHigh: inner.high },
    ...{ from: at - HALF, until: at + HALF },
    words: `${inWords(expected.estimate ?? 0)} (${inWords(expected.low ?? 0)} to ${inWords(expected.high ?? 0)})`,
  }));
  const tooltip = [
    { field: "origin", title: "Forecast on" },
    { field: "words", title: "Mean, 95 %" },
    { field: "used", title: "Opened", format: "," },
    { field: "to", title: "Up to" },
  ];
  const bar = { ...x, field: "from" };
  return {
    description: `Past forecasts of frames opened in ${count(months, "month")} against what came: ${windows
      .slice(-6)
      .map(({ origin, used, expected }) => `${origin} ${inWords(expected.estimate ?? 0)}, came ${inWords(used)}`)
      .join("; ")}.`,
    config: CHART_CONFIG,
    height: HEIGHT,
    layer: [
      {
        data: { values },
        mark: { type: "rect", color: COLOURS.ink, opacity: 0.14 },
        encoding: { x: bar, x2: { field: "until" }, y, y2: { field: "high" }, tooltip },
      },
      {
        data: { values },
        mark: { type: "rect", color: COLOURS.ink, opacity: 0.22 },
        encoding: {
          x: bar,
          x2: { field: "until" },
          y: { ...y, field: "innerLow" },
          y2: { field: "innerHigh" },
          tooltip,
        },
      },
      {
        data: { values },
        mark: { type: "rule", color: COLOURS.ink, strokeWidth: 2 },
        encoding: { x: bar, x2: { field: "until" }, y: { ...y, field: "mean" } },
      },
      {
        data: { values: values.filter(({ isApart }) => !isApart) },
        mark: { type: "point", shape: "diamond", size: 46, color: COLOURS.accent, fill: COLOURS.paper, opacity: 1 },
        encoding: { x, y: { ...y, field: "used" }, tooltip },
      },
      {
        data: { values: values.filter(({ isApart }) => isApart) },
        mark: { type: "point", shape: "diamond", filled: true, size: 60, color: COLOURS.accent, opacity: 1 },
        encoding: { x, y: { ...y, field: "used" }, tooltip },
      },
    ],
  };
}
