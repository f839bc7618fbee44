import type { TopLevelSpec } from "vega-lite";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import type { MeanCountStep } from "../../src/stats/recurrence/mean-count.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import type { Layer, Position } from "./spec-types.ts";
import { thin } from "./thin.ts";

const HEIGHT = 280;

export type MeanCountRows = { title: string; timeTitle: string; level: number; steps: MeanCountStep[] };

/** Mean cumulative number of rebuilds a unit against its age: straight is steady, bending upward is getting worse. */
export function meanCount({ title, timeTitle, level, steps }: MeanCountRows): TopLevelSpec {
  const ages = roundTicks(steps.at(-1)?.time ?? 1, 8);
  const end = ages.at(-1) ?? 1;
  // One step with very wide limits would flatten the curve.
  const highest = steps.reduce((most, { high, estimate }) => Math.max(most, high ?? estimate), 0);
  const top = roundTicks(Math.min(highest, 1.6 * (steps.at(-1)?.estimate ?? 1)), 5);
  const x: Position = {
    field: "time",
    type: "quantitative",
    title: timeTitle,
    scale: { domain: [0, end], nice: false },
    axis: { values: ages, format: ",~r", titlePadding: 24 },
  };
  const y: Position = {
    field: "estimate",
    type: "quantitative",
    title: "Rebuilds a unit",
    scale: { domain: [0, top.at(-1) ?? 1], nice: false },
    axis: { values: top, format: ",~r" },
  };
  const shown = thin(steps, ({ time }) => time);
  const from: MeanCountStep = {
    time: 0,
    underObservation: steps[0]?.underObservation ?? 0,
    events: 0,
    estimate: 0,
    se: 0,
    seNelson: 0,
    low: 0,
    high: 0,
  };
  return {
    description: `Mean cumulative number of rebuilds a unit by service watched, ${title}, with pointwise ${100 * level} % limits and the number of units watched under the axis: ${stepsWords(steps)}.`,
    config: CHART_CONFIG,
    height: HEIGHT,
    layer: [
      {
        data: { values: shown.filter(({ low, high }) => low !== null && high !== null) },
        mark: { type: "area", interpolate: "step-after", color: COLOURS.ink, opacity: 0.13, clip: true },
        encoding: { x, y: { ...y, field: "low" }, y2: { field: "high" } },
      },
      {
        data: { values: [from, ...shown] },
        mark: { type: "line", interpolate: "step-after", color: COLOURS.ink, strokeWidth: 2 },
        encoding: { x, y },
      },
      ...watchedRow(steps, ages, x),
      {
        data: { values: shown },
        params: [{ name: "near", select: { type: "point", on: "pointerover", nearest: true, clear: "pointerout" } }],
        mark: { type: "point", filled: true, size: 50, color: COLOURS.accent },
        encoding: {
          x,
          y,
          opacity: { condition: { param: "near", empty: false, value: 1 }, value: 0 },
          tooltip: [
            { field: "time", title: "Age", format: ",.1~f" },
            { field: "estimate", title: "Rebuilds a unit", format: ".3~r" },
            { field: "low", title: "Lower limit", format: ".3~r" },
            { field: "high", title: "Upper limit", format: ".3~r" },
            { field: "underObservation", title: "Units watched", format: "," },
          ],
        },
      },
    ],
  };
}

/** The number half way and at the last rebuild. */
function stepsWords(steps: MeanCountStep[]): string {
  const told = [steps[Math.floor((steps.length - 1) / 2)], steps.at(-1)].flatMap((step) =>
    step === undefined ? [] : [`${withLimits(step, "")} by ${inWords(step.time)}`],
  );
  return [...new Set(told)].join(", ");
}

/** Units watched, each number at the age where it was counted: the rebuild nearest to a tick of the axis. */
function watchedRow(steps: MeanCountStep[], ages: number[], x: Position): Layer[] {
  const near = ages.map((age) =>
    steps.reduce((best, step) => (Math.abs(step.time - age) < Math.abs(best.time - age) ? step : best)),
  );
  const apart = (ages[1] ?? 1) / 2;
  const values = [...new Set(near)].filter(
    (step, index, all) => index === 0 || step.time - (all[index - 1]?.time ?? 0) >= apart,
  );
  const text = { type: "text", baseline: "middle", fontSize: 11 } as const;
  return [
    {
      data: {
        values: values.map(({ time, underObservation }) => ({ time, text: underObservation.toLocaleString("en-US") })),
      },
      mark: { ...text, color: COLOURS.ink },
      encoding: { x, y: { value: HEIGHT + 28 }, text: { field: "text" } },
    },
    {
      data: { values: [{ text: "units" }] },
      mark: { ...text, align: "right", color: COLOURS.soft },
      encoding: { x: { value: -14 }, y: { value: HEIGHT + 28 }, text: { field: "text" } },
    },
  ];
}
