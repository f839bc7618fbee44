import type { TopLevelSpec } from "vega-lite";
import type { CompareAnswer } from "../../src/questions/compare-answer.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { ratioAxis } from "./ratio-axis.ts";
import type { Layer, Position } from "./spec-types.ts";

const HEIGHT = 300;

export type EffectCurve = Pick<CompareAnswer, "curve" | "rug" | "best"> & {
  title: string;
  /** "End play (thou)". */
  valueTitle: string;
  level: number;
  /** What the value should lie in, in the unit of the readings. */
  window: { low: number; high: number } | null;
};

/** How life goes with a measured value: the ratio to that at the middle with its band, the readings as a rug, the window and the best value. */
export function effectCurve({ curve, rug, best, title, valueTitle, level, window }: EffectCurve): TopLevelSpec {
  const shown = curve.map(({ x, lifeRatio, low, high }) => ({ x, lifeRatio, low, high }));
  const [from, to] = [shown[0]!.x, shown.at(-1)!.x];
  const ratios = shown.flatMap(({ lifeRatio, low, high }) => [lifeRatio, low ?? lifeRatio, high ?? lifeRatio]);
  const { domain, ticks } = ratioAxis(
    ratios,
    shown.map(({ lifeRatio }) => lifeRatio),
  );
  const within = (value: number | null) => (value === null ? null : Math.min(Math.max(value, domain[0]), domain[1]));
  const x: Position = {
    field: "x",
    type: "quantitative",
    title: valueTitle,
    scale: { domain: [from, to], nice: false, zero: false },
    axis: { format: "~r", tickCount: 10 },
  };
  const y: Position = {
    field: "lifeRatio",
    type: "quantitative",
    title: "Times as long as at the middle",
    scale: { type: "log", domain: [...domain] },
    axis: { values: ticks, format: "~r" },
  };
  const values = shown.map((point) => ({
    ...point,
    low: within(point.low),
    high: within(point.high),
    lifeRatio: within(point.lifeRatio),
  }));
  return {
    description: `${title}: ratio of lives by ${valueTitle}, to that at the middle, with a pointwise ${100 * level} % band${bestWords(best)}; from ${from} to ${to}, where readings lie.`,
    config: CHART_CONFIG,
    height: HEIGHT,
    layer: [
      ...windowLayers(window, [from, to], x),
      { data: { values: [{ lifeRatio: 1 }] }, mark: { type: "rule", color: COLOURS.faint }, encoding: { y } },
      {
        data: { values: values.filter(({ low, high }) => low !== null && high !== null) },
        mark: { type: "area", color: COLOURS.ink, opacity: 0.13 },
        encoding: { x, y: { ...y, field: "low" }, y2: { field: "high" } },
      },
      { data: { values }, mark: { type: "line", color: COLOURS.ink, strokeWidth: 2 }, encoding: { x, y } },
      ...bestLayers(best, x),
      {
        data: { values: rug.map((value) => ({ x: value })) },
        mark: { type: "tick", orient: "vertical", size: 9, thickness: 1, color: COLOURS.soft, opacity: 0.5 },
        encoding: { x, y: { value: HEIGHT - 5 } },
      },
      {
        data: { values: shown },
        mark: { type: "point", filled: true, size: 60, color: COLOURS.accent, opacity: 0 },
        encoding: {
          x,
          y,
          tooltip: [
            { field: "x", title: valueTitle, format: ".3~r" },
            { field: "lifeRatio", title: "Times as long", format: ".3~r" },
            { field: "low", title: "Lower limit", format: ".3~r" },
            { field: "high", title: "Upper limit", format: ".3~r" },
          ],
        },
      },
    ],
  };
}

function bestWords({ estimate, low, high }: CompareAnswer["best"]): string {
  if (estimate === null) return "";
  return `; longest near ${estimate.toPrecision(3)} (${low?.toPrecision(3)} to ${high?.toPrecision(3)})`;
}

/** The edges of the window, as far as readings go. */
function windowLayers(window: EffectCurve["window"], [from, to]: [number, number], x: Position): Layer[] {
  if (window === null) return [];
  const edges = [window.low, window.high].filter((edge) => edge > from && edge < to);
  return [
    {
      data: { values: edges.map((edge) => ({ x: edge })) },
      mark: { type: "rule", color: COLOURS.soft, strokeDash: [5, 4] },
      encoding: { x },
    },
    {
      data: { values: edges.map((edge) => ({ x: edge, text: "window" })) },
      mark: { type: "text", align: "left", dx: 4, baseline: "top", color: COLOURS.soft, fontSize: 11 },
      encoding: { x, y: { value: 3 }, text: { field: "text" } },
    },
  ];
}

/** The best value with its limits, a bar under the top edge. */
function bestLayers({ estimate, low, high }: CompareAnswer["best"], x: Position): Layer[] {
  if (estimate === null || low === null || high === null) return [];
  const values = [{ x: estimate, low, high, text: "longest lives" }];
  return [
    {
      data: { values },
      mark: { type: "rule", color: COLOURS.accent, strokeWidth: 3 },
      encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y: { value: 24 } },
    },
    {
      data: { values },
      mark: { type: "point", shape: "diamond", filled: true, size: 70, color: COLOURS.accent, opacity: 1 },
      encoding: { x, y: { value: 24 } },
    },
    {
      data: { values },
      mark: { type: "text", baseline: "top", dy: 8, color: COLOURS.accent, fontSize: 11 },
      encoding: { x, y: { value: 24 }, text: { field: "text" } },
    },
  ];
}
