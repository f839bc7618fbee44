import type { TopLevelSpec } from "vega-lite";
import type { SurvivalStep } from "../../src/questions/answer.ts";
import { inWords } from "../../src/questions/wording.ts";
import { shareWords } from "../text/share-words.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import type { Layer, Position } from "./spec-types.ts";
import { thin } from "./thin.ts";

const HEIGHT = 250;
export type SurvivalRows = {
  title: string;
  timeTitle: string;
  level: number;
  /** Round ages of the axis; the first is 0. */
  ages: number[];
  atRisk: number[];
  steps: SurvivalStep[];
  /** Age where the curve starts: above 0 where lives came under observation late. */
  from: number;
  /** Age beyond which so few are at risk that the curve is drawn broken. */
  fewFrom: number;
  /** Ages at which lives left without failing. */
  unfailed: number[];
  /** Longest life, to which the curve runs on. */
  end: number;
  /** Curves of the other slots, for comparison. */
  others: { title: string; steps: SurvivalStep[]; from: number; end: number }[];
};

type Point = { time: number; estimate: number; low: number | null; high: number | null; atRisk: number | null };

/** Share still running against age: a step curve with its band, ticks where lives left unfailed, numbers at risk below. */
export function survivalCurve(rows: SurvivalRows): TopLevelSpec {
  const { ages, title, timeTitle, level, steps } = rows;
  const x: Position = {
    field: "time",
    type: "quantitative",
    title: timeTitle,
    scale: { domain: [0, ages.at(-1) ?? 1], nice: false },
    axis: { values: ages, format: ",~r", titlePadding: 24, labelOverlap: false },
  };
  const y: Position = {
    field: "estimate",
    type: "quantitative",
    title: "Still running",
    scale: { domain: [0, 1] },
    axis: { format: ".0%", values: [0, 0.25, 0.5, 0.75, 1] },
  };
  const points = curve(rows);
  const turn = points.findIndex(({ time }) => time > rows.fewFrom);
  const corner = { ...points[Math.max(turn - 1, 0)], time: Math.max(rows.fewFrom, rows.from) } as Point;
  const certain = turn === -1 ? points : [...points.slice(0, turn), corner];
  const step = (values: Point[], strokeDash: number[], columns: number): Layer => ({
    data: { values: thin(values, ({ time }) => time, columns) },
    mark: { type: "line", interpolate: "step-after", color: COLOURS.ink, strokeWidth: 2, strokeDash },
    encoding: { x, y },
  });
  return {
    description: `Share still running by age, ${title}, with pointwise ${100 * level} % limits and the number at risk under the axis; ${steps.length} ages at failure${stepsWords(steps)}.`,
    config: CHART_CONFIG,
    height: HEIGHT,
    layer: [
      ...others(rows, x, y),
      {
        data: {
          values: thin(
            points.filter(({ low, high }) => low !== null && high !== null),
            ({ time }) => time,
            150,
          ),
        },
        mark: { type: "area", interpolate: "step-after", color: COLOURS.ink, opacity: 0.13 },
        encoding: { x, y: { ...y, field: "low" }, y2: { field: "high" } },
      },
      step(certain, [1, 0], 200),
      ...(turn === -1 ? [] : [step([corner, ...points.slice(turn)], [3, 3], 80)]),
      leavers(rows, points, x, y),
      ...riskRow(rows, x),
      nearest(points, x, y),
    ],
  };
}

/** How many still run at the half of the failures and at the last. */
function stepsWords(steps: SurvivalStep[]): string {
  const told = [steps[Math.floor((steps.length - 1) / 2)], steps.at(-1)].flatMap((step) =>
    step === undefined ? [] : [`${shareWords(step.estimate)} at ${inWords(step.time)}`],
  );
  return told.length === 0 ? "" : `; still running: ${[...new Set(told)].join(", ")}`;
}

/** The steps as corners of a curve that falls from 1 where it starts to the longest life. */
function curve({ steps, from, end }: Pick<SurvivalRows, "steps" | "from" | "end">): Point[] {
  const start: Point = { time: from, estimate: 1, low: null, high: null, atRisk: steps[0]?.atRisk ?? null };
  const points: Point[] = [
    start,
    ...steps.map(({ time, estimate, low, high, atRisk }) => ({ time, estimate, low, high, atRisk })),
  ];
  const last = points.at(-1) ?? start;
  return end > last.time ? [...points, { ...last, time: end }] : points;
}

function others({ others, ages }: SurvivalRows, x: Position, y: Position): Layer[] {
  if (others.length === 0) return [];
  const values = others.flatMap(({ title, ...other }) =>
    thin(upTo(curve(other), ages.at(-1) ?? 1), ({ time }) => time, 60).map(({ time, estimate }) => ({
      slot: title,
      time,
      estimate,
    })),
  );
  return [
    {
      data: { values },
      mark: { type: "line", interpolate: "step-after", color: COLOURS.faint, strokeWidth: 1 },
      encoding: { x, y, detail: { field: "slot" }, tooltip: [{ field: "slot", title: "For comparison" }] },
    },
  ];
}

/** The part of a curve that the axis has room for, run on to its edge. */
function upTo(points: Point[], edge: number): Point[] {
  const inside = points.filter(({ time }) => time <= edge);
  const last = inside.at(-1);
  return last === undefined || inside.length === points.length ? inside : [...inside, { ...last, time: edge }];
}

/** A tick on the curve for each life that left unfailed. */
function leavers({ unfailed }: SurvivalRows, points: Point[], x: Position, y: Position): Layer {
  const sorted = unfailed.toSorted((a, b) => a - b);
  let step = 0;
  const values = sorted.map((time) => {
    while ((points[step + 1]?.time ?? Number.POSITIVE_INFINITY) <= time) step++;
    return { time, estimate: points[step]?.estimate ?? 1 };
  });
  return {
    data: { values: thin(values, ({ time }) => time, 150) },
    mark: { type: "tick", orient: "vertical", size: 8, thickness: 1, color: COLOURS.ink },
    encoding: { x, y },
  };
}

/** Numbers up to the first age that no life reaches. */
function riskRow({ ages, atRisk }: SurvivalRows, x: Position): Layer[] {
  const none = atRisk.indexOf(0);
  const shown = none === -1 ? ages : ages.slice(0, none + 1);
  const text = { type: "text", baseline: "middle", color: COLOURS.ink, fontSize: 11 } as const;
  return [
    {
      data: { values: shown.map((time, index) => ({ time, text: (atRisk[index] ?? 0).toLocaleString("en-US") })) },
      mark: text,
      encoding: { x, y: { value: HEIGHT + 28 }, text: { field: "text" } },
    },
    {
      data: { values: [{ text: "at risk" }] },
      mark: { ...text, align: "right", color: COLOURS.soft },
      encoding: { x: { value: -14 }, y: { value: HEIGHT + 28 }, text: { field: "text" } },
    },
  ];
}

/** The step nearest to the pointer shows itself and its figures. */
function nearest(points: Point[], x: Position, y: Position): Layer {
  return {
    data: { values: thin(points, ({ time }) => time, 150) },
    params: [{ name: "near", select: { type: "point", on: "pointerover", nearest: true, clear: "pointerout" } }],
    mark: { type: "point", filled: true, size: 50, color: COLOURS.accent },
    encoding: {
      x,
      y,
      opacity: { condition: { param: "near", empty: false, value: 1 }, value: 0 },
      tooltip: [
        { field: "time", title: "Age", format: ",.1~f" },
        { field: "estimate", title: "Still running", format: ".1%" },
        { field: "low", title: "Lower limit", format: ".1%" },
        { field: "high", title: "Upper limit", format: ".1%" },
        { field: "atRisk", title: "At risk", format: "," },
      ],
    },
  };
}
