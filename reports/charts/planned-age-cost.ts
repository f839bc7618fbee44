import type { TopLevelSpec } from "vega-lite";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import type { PlannedAge } from "../../src/questions/spares-answer.ts";
import { inWords } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG, SMALL_TITLE } from "./chart-theme.ts";
import type { Position } from "./spec-types.ts";

const HEIGHT = 130;
/** Planned at very young ages the cost goes up without end; the axis stops at so many times what waiting costs. */
const MOST = 1.6;
/** So many best ages on, nothing more is to be seen. */
const FAR = 5;

export type PlannedAgeCost = Pick<PlannedAge, "age" | "bestAge" | "saving" | "curve"> & {
  title: string;
  /** Of ages, with the blank before it. */
  unit: string;
  currency: string | null;
};

/** Cost of running against the planned age, the best age with its limits, and what waiting for failures costs. */
export function plannedAgeCost({ title, unit, currency, age, bestAge, saving, curve }: PlannedAgeCost): TopLevelSpec {
  const per = unit.trim() === "h" ? 1000 : 100;
  const least = per * curve.reduce((least, { rate }) => Math.min(least, rate), Number.POSITIVE_INFINITY);
  const waiting = least / (1 - (saving?.estimate ?? 0));
  const values = curve
    .map((point) => ({ age: point.age, cost: per * point.rate }))
    .filter((point) => point.cost <= MOST * waiting && point.age <= FAR * (age ?? point.age));
  const money = `Cost for ${inWords(per)}${unit}${currency === null ? "" : ` (${currency})`}`;
  const ages = roundTicks(values.at(-1)?.age ?? 1, 4);
  const last = ages.at(-1) ?? 1;
  const costs = roundTicks(
    values.reduce((most, { cost }) => Math.max(most, cost), waiting),
    4,
  );
  const x: Position = {
    field: "age",
    type: "quantitative",
    title: `Planned age (${unit.trim()})`,
    scale: { domain: [0, last], nice: false },
    axis: { values: ages, format: ",~r", grid: false, ...SMALL_TITLE },
  };
  const y: Position = {
    field: "cost",
    type: "quantitative",
    title: money,
    scale: { domain: [0, costs.at(-1) ?? 1], nice: false },
    axis: { values: costs, format: ",~r", ...SMALL_TITLE },
  };
  const best = { age: age ?? 0, cost: least };
  return {
    description: `${title}: cost of running by planned age; least at ${inWords(best.age)}${unit}, ${inWords(least)} for ${inWords(per)}${unit}, where waiting for failures costs ${inWords(waiting)}.`,
    config: CHART_CONFIG,
    height: HEIGHT,
    layer: [
      {
        data: { values: [{ cost: waiting }] },
        mark: { type: "rule", color: COLOURS.soft, strokeDash: [5, 4] },
        encoding: { y },
      },
      {
        data: { values },
        mark: { type: "line", color: COLOURS.ink, strokeWidth: 2 },
        encoding: {
          x,
          y,
          tooltip: [
            { field: "age", title: `Planned age (${unit.trim()})`, format: ",.0f" },
            { field: "cost", title: money, format: ",.3~r" },
          ],
        },
      },
      {
        data: { values: bestAge === null ? [] : [{ ...best, low: bestAge.low, high: Math.min(bestAge.high, last) }] },
        mark: { type: "rule", color: COLOURS.accent, strokeWidth: 1.5 },
        encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y },
      },
      {
        data: { values: [best] },
        mark: { type: "point", filled: true, shape: "diamond", size: 80, color: COLOURS.accent, opacity: 1 },
        encoding: { x, y },
      },
    ],
  };
}
