import type { TopLevelSpec } from "vega-lite";
import type { BenchChart, BenchPoint } from "../../src/questions/bench-answer.ts";
import type { Bin } from "../../src/questions/reading-bins.ts";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { binWords } from "../text/bin-words.ts";
import { type BuiltOf, spanNamed } from "../text/built-spans.ts";
import { ruleWords } from "../text/rule-words.ts";
import { lowerWords, usualWords } from "../text/usual-words.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { dayTicks } from "./day-ticks.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import type { Layer, Position } from "./spec-types.ts";
import { spreadApart } from "./spread-apart.ts";

/** Two panels in one picture, in pixels from the top: the readings, and below them what each differs by from the one before. */
const READINGS = { top: 20, bottom: 146 };
const RANGES = { top: 178, bottom: 230 };
const HEIGHT = RANGES.bottom;
const NAME = 13;
const PICKS: Pickable[] = [
  { kind: "unit", field: "frame" },
  { kind: "reading", field: "reading" },
  { kind: "built", field: "built" },
];

export type InOrder = {
  title: string;
  /** Of the readings; empty where they have none. */
  unit: string;
  window: { low: number; high: number } | null;
  chart: BenchChart;
  /** By which readings can be picked out: the bars of their histogram, and the spans of building. */
  bins: Bin[];
  of: BuiltOf;
};

/** A reading with what it can be picked by. */
type Point = BenchPoint & { frame: string | null; reading: string | null; built: string | null };

type Panel = { top: number; bottom: number; ticks: number[]; y: (value: number) => number };

/**
 * Readings in the order of building, and under them their moving range. A pale strip is what is usual by the readings themselves, with its
 * middle; broken lines are the edges of the window. Triangles lie outside the window, diamonds stand about what breaks a run rule.
 */
export function endPlayInOrder({ title, unit, window, chart, bins, of }: InOrder): TopLevelSpec {
  const { limits } = chart;
  const points = chart.points.map((point) => ({
    ...point,
    frame: point.unit,
    reading: barOf(point.value, bins, unit),
    built: point.on === null ? null : spanNamed(point.on, of),
  }));
  const values = points.map(({ value }) => value);
  const upper = panelOf(READINGS, [...values, window?.high ?? 0, limits?.high ?? 0]);
  const lower = panelOf(RANGES, [...points.map(({ range }) => range ?? 0), limits?.range.high ?? 0]);
  const last = points.length + 1;
  const days = dayTicks(points.map(({ on }) => on));
  const x: Position = {
    field: "at",
    type: "quantitative",
    title: null,
    scale: { domain: [0, last], nice: false, zero: false },
    axis: {
      values: days.map(({ at }) => at + 1),
      labelExpr: `${JSON.stringify(Object.fromEntries(days.map(({ at, words }) => [at + 1, words])))}[datum.value]`,
      grid: false,
    },
  };
  const y: Position = {
    field: "y",
    type: "quantitative",
    title: null,
    scale: { domain: [HEIGHT, 0], nice: false, zero: false },
    axis: null,
  };
  const axes = { x, y };
  return {
    description: descriptionOf({ title, unit, window, chart }),
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: HEIGHT,
    resolve: { axis: { y: "independent" } },
    layer: [
      ...usualLayers(chart, upper, lower, { ...axes, last }),
      ...windowLayers(window, upper, { ...axes, last }),
      ...readingLayers(points, upper, unit, axes),
      ...rangeLayers(points, lower, unit, limits?.range.high ?? Number.POSITIVE_INFINITY, axes),
      titleLayer(unit, { x, y: { ...y, axis: axisOf([upper, lower]) } }),
      ...wordLayer({ window, chart, upper, lower }, x),
    ],
  };
}

function barOf(value: number, bins: Bin[], unit: string): string | null {
  const bin = bins.find(({ from, to }) => value >= from && value < to);
  return bin === undefined ? null : binWords(bin, unit);
}

function panelOf({ top, bottom }: { top: number; bottom: number }, values: number[]): Panel {
  const ticks = roundTicks(
    values.reduce((most, value) => Math.max(most, value), 0),
    bottom - top > 120 ? 5 : 4,
  );
  const most = ticks.at(-1) ?? 1;
  // Readings below 0 are errors of the cards: they are drawn on the foot, and the table has their figure.
  return { top, bottom, ticks, y: (value) => bottom - (Math.max(0, value) / most) * (bottom - top) };
}

/** One axis for both panels: each figure at its own height. */
function axisOf(panels: Panel[]): NonNullable<Position["axis"]> {
  const marks = panels.flatMap(({ ticks, y }) => ticks.map((tick) => ({ y: y(tick), words: inWords(tick) })));
  return {
    values: marks.map(({ y }) => y),
    labelExpr: labelAt(marks),
    labelOverlap: false,
    grid: false,
  };
}

type Axes = { x: Position; y: Position };
type Lines = Axes & { last: number };

function usualLayers({ limits }: BenchChart, upper: Panel, lower: Panel, { x, y, last }: Lines): Layer[] {
  if (limits === null) return [];
  const strips = [
    { at: 0, to: last, y: upper.y(limits.high), foot: upper.y(limits.low) },
    { at: 0, to: last, y: lower.y(limits.range.high), foot: lower.y(0) },
  ];
  const middles = [upper.y(limits.centre), lower.y(limits.range.centre)];
  return [
    {
      data: { values: strips },
      mark: { type: "rect", color: COLOURS.ink, opacity: 0.09 },
      encoding: { x, x2: { field: "to" }, y, y2: { field: "foot" } },
    },
    {
      data: { values: middles.map((at) => ({ at: 0, to: last, y: at })) },
      mark: { type: "rule", color: COLOURS.faint, strokeWidth: 1 },
      encoding: { x, x2: { field: "to" }, y },
    },
  ];
}

function windowLayers(window: InOrder["window"], { y: placed }: Panel, { x, y, last }: Lines): Layer[] {
  if (window === null) return [];
  return [
    {
      data: { values: [window.low, window.high].map((edge) => ({ at: 0, to: last, y: placed(edge) })) },
      mark: { type: "rule", color: COLOURS.ink, strokeWidth: 1.5, strokeDash: [5, 3] },
      encoding: { x, x2: { field: "to" }, y },
    },
  ];
}

const LOOKS = [
  { place: "inside", shape: "circle", color: COLOURS.soft, size: 18 },
  { place: "below", shape: "triangle-down", color: COLOURS.accent, size: 48 },
  { place: "above", shape: "triangle-up", color: COLOURS.accent, size: 48 },
] as const;

function readingLayers(points: Point[], { y: placed }: Panel, unit: string, { x, y }: Axes): Layer[] {
  const values = points.map(({ value, on, frame, reading, built, card, outside, breaks }, place) => ({
    at: place + 1,
    y: placed(value),
    value,
    on: on ?? "no date",
    frame,
    reading,
    built,
    named: frame ?? "not named",
    card,
    place: outside ?? "inside",
    rules: breaks.length === 0 ? "none" : breaks.map(ruleWords).join("; "),
  }));
  const tooltip = [
    { field: "value", title: unit === "" ? "End play" : `End play (${unit})`, format: ",.4~r" },
    { field: "on", title: "Built" },
    { field: "named", title: "Frame" },
    { field: "card", title: "Card" },
    { field: "rules", title: "Rules broken" },
  ];
  const broken = values.filter(({ rules }) => rules !== "none");
  return [
    { data: { values }, mark: { type: "line", color: COLOURS.faint, strokeWidth: 0.75 }, encoding: { x, y } },
    ...LOOKS.flatMap(({ place, shape, color, size }): Layer[] => {
      const own = values.filter((value) => value.place === place);
      if (own.length === 0) return [];
      const mark = { type: "point", filled: true, shape, color, size } as const;
      return [{ data: { values: own }, mark, encoding: { x, y, ...unlessPicked(PICKS), tooltip } }];
    }),
    ...(broken.length === 0
      ? []
      : [
          {
            data: { values: broken },
            mark: { type: "point", shape: "diamond", filled: false, color: COLOURS.ink, size: 170, strokeWidth: 1.5 },
            encoding: { x, y, ...unlessPicked(PICKS, 0.7), tooltip },
          } as Layer,
        ]),
  ];
}

function rangeLayers(points: Point[], panel: Panel, unit: string, limit: number, { x, y }: Axes): Layer[] {
  const values = points.flatMap(({ range, on, card, frame, reading, built }, place) =>
    range === null
      ? []
      : [{ at: place + 1, y: panel.y(range), range, on: on ?? "no date", card, frame, reading, built }],
  );
  const far = values.filter(({ range }) => range > limit);
  const tooltip = [
    { field: "range", title: unit === "" ? "Differs by" : `Differs by (${unit})`, format: ",.4~r" },
    { field: "on", title: "Built" },
    { field: "card", title: "Card" },
  ];
  if (values.length === 0) return [];
  return [
    { data: { values }, mark: { type: "line", color: COLOURS.faint, strokeWidth: 0.75 }, encoding: { x, y } },
    {
      data: { values },
      mark: { type: "point", filled: true, shape: "circle", color: COLOURS.soft, size: 10 },
      encoding: { x, y, ...unlessPicked(PICKS), tooltip },
    },
    ...(far.length === 0
      ? []
      : [
          {
            data: { values: far },
            mark: { type: "point", shape: "diamond", filled: false, color: COLOURS.ink, size: 170, strokeWidth: 1.5 },
            encoding: { x, y, ...unlessPicked(PICKS, 0.7), tooltip },
          } as Layer,
        ]),
  ];
}

type Worded = Pick<InOrder, "window" | "chart"> & { upper: Panel; lower: Panel };

/** What each line and strip is, beside its right end: an axis keeps room for words on the narrowest screen. */
function wordLayer({ window, chart: { limits }, upper, lower }: Worded, x: Position): Layer[] {
  const edges = (window === null ? [] : [window.low, window.high]).map((edge) => ({
    y: upper.y(edge),
    words: `window ${inWords(edge)}`,
  }));
  const usual =
    limits === null
      ? []
      : [
          { y: upper.y(limits.high), words: `usual to ${inWords(limits.high)}` },
          { y: upper.y(limits.centre), words: `middle ${inWords(limits.centre)}` },
          { y: upper.y(limits.low), words: `from ${lowerWords(limits.low)}` },
        ];
  const ranges =
    limits === null
      ? []
      : [
          { y: lower.y(limits.range.high), words: `usual to ${inWords(limits.range.high)}` },
          { y: lower.y(limits.range.centre), words: `middle ${inWords(limits.range.centre)}` },
        ];
  const placed = [...apart([...edges, ...usual], READINGS), ...apart(ranges, RANGES)];
  if (placed.length === 0) return [];
  const isWindow = `test(/^window/, ${labelAt(placed)})`;
  return [
    {
      data: { values: [{ at: 0, y: placed[0]!.y }] },
      mark: { type: "point", opacity: 0 },
      encoding: {
        x,
        y: {
          field: "y",
          type: "quantitative",
          title: null,
          scale: { domain: [HEIGHT, 0], nice: false, zero: false },
          axis: {
            orient: "right",
            values: placed.map(({ y }) => y),
            labelExpr: labelAt(placed),
            labelOverlap: false,
            labelLimit: 0,
            labelPadding: 5,
            labelColor: { condition: { test: isWindow, value: COLOURS.ink }, value: COLOURS.soft },
            labelFontWeight: { condition: { test: isWindow, value: 600 }, value: "normal" },
            labelFontStyle: { condition: { test: isWindow, value: "normal" }, value: "italic" },
            domain: false,
            ticks: false,
            grid: false,
          },
        },
      },
    },
  ];
}

/** What each panel shows, over it; of all layers this one has the axis of figures. */
function titleLayer(unit: string, { x, y }: Axes): Layer {
  const inUnit = unit === "" ? "" : ` (${unit})`;
  return {
    data: {
      values: [
        { at: 0, y: READINGS.top - 12, words: `End play as built${inUnit}` },
        { at: 0, y: RANGES.top - 12, words: `Differs from the one before${inUnit}` },
      ],
    },
    mark: { type: "text", align: "left", dx: 4, baseline: "middle", color: COLOURS.ink, fontSize: 11.5 },
    encoding: { x, y, text: { field: "words" } },
  };
}

/** An expression that gives the words at each place of an axis. */
function labelAt(marks: { y: number; words: string }[]): string {
  return `${JSON.stringify(Object.fromEntries(marks.map(({ y, words }) => [y, words])))}[datum.value]`;
}

function apart<Word extends { y: number }>(words: Word[], { top, bottom }: { top: number; bottom: number }): Word[] {
  const sorted = words.toSorted((one, two) => one.y - two.y);
  const places = spreadApart(
    sorted.map(({ y }) => y),
    NAME,
    top - 6,
    bottom + 6,
  );
  return sorted.map((word, at) => ({ ...word, y: places[at]! }));
}

type Described = Pick<InOrder, "title" | "unit" | "window" | "chart">;

function descriptionOf({ title, unit, window, chart: { points, readings, limits, breaks } }: Described): string {
  const inUnit = unit === "" ? "" : ` ${unit}`;
  return [
    `As-built end play in the order of building, ${title}: ${points.length < readings ? `the latest ${points.length} of ${count(readings, "reading")}` : count(readings, "reading")}`,
    ...(limits === null
      ? []
      : [
          `usual by the readings themselves: ${usualWords(limits, unit)}, about ${inWords(limits.centre)}`,
          `${count(breaks, "reading breaks", "readings break")} a run rule`,
        ]),
    ...(window === null ? [] : [`window ${inWords(window.low)} to ${inWords(window.high)}${inUnit}`]),
  ]
    .join("; ")
    .concat("; under it what each differs by from the one before.");
}
