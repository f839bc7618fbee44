import type { TopLevelSpec } from "vega-lite";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import { shortLabel } from "./short-label.ts";
import type { Layer, Position } from "./spec-types.ts";
import { spreadApart } from "./spread-apart.ts";
import { thin } from "./thin.ts";

const HEIGHT = 280;
/** Columns that a curve is thinned to: six curves stay within the marks that a chart may have. */
const COLUMNS = 70;
/** Signs of a name that fit right of the curves. */
const LABEL = 22;
const PICKS: Pickable[] = [{ kind: "mode", field: "mode" }];

/** The looks of the curves in the order of their modes; each has its name beside it as well. */
const LOOKS = [
  { stroke: COLOURS.accent, strokeDash: [1, 0], strokeWidth: 2.25 },
  { stroke: COLOURS.ink, strokeDash: [1, 0], strokeWidth: 1.75 },
  { stroke: COLOURS.ink, strokeDash: [7, 3], strokeWidth: 1.75 },
  { stroke: COLOURS.ink, strokeDash: [2, 2], strokeWidth: 1.75 },
  { stroke: COLOURS.soft, strokeDash: [8, 3, 2, 3], strokeWidth: 1.75 },
  { stroke: COLOURS.soft, strokeDash: [1, 4], strokeWidth: 2 },
] as const;

/** Curves that one chart can tell apart. */
export const MOST_MODES = LOOKS.length;

type IncidenceStep = { time: number; estimate: number; low: number | null; high: number | null };

export type IncidenceRows = {
  title: string;
  timeTitle: string;
  level: number;
  /** At most `MOST_MODES` are drawn, those that come first. */
  modes: { name: string; steps: IncidenceStep[] }[];
  /** Longest life, to which the curves run on. */
  end: number;
  /** Age beyond which so few are at risk that the curves are drawn pale. */
  fewFrom: number;
};

type Curve = { name: string; steps: IncidenceStep[]; last: number; look: (typeof LOOKS)[number] };

/** Share of lives that each damage mode has ended by an age: a step curve a mode, named at its end. */
export function cumulativeIncidence({ title, timeTitle, level, modes, end, fewFrom }: IncidenceRows): TopLevelSpec {
  const curves: Curve[] = modes
    .slice(0, MOST_MODES)
    .map(({ name, steps }, index) => ({ name, steps, last: steps.at(-1)?.estimate ?? 0, look: LOOKS[index]! }));
  const ages = roundTicks(end);
  const shares = roundTicks(Math.min(1, Math.max(0.01, ...curves.map(({ last }) => last)) * 1.08), 5).filter(
    (share) => share <= 1,
  );
  const top = Math.max(shares.at(-1) ?? 1, ...curves.map(({ last }) => last));
  const x: Position = {
    field: "time",
    type: "quantitative",
    title: timeTitle,
    scale: { domain: [0, end], nice: false },
    axis: { values: ages.filter((age) => age <= end), format: ",~r", grid: true },
  };
  const y: Position = {
    field: "estimate",
    type: "quantitative",
    title: "Share of lives ended",
    scale: { domain: [0, top], nice: false },
    axis: { values: shares, format: ".0~%" },
  };
  return {
    description: describe(title, level, curves),
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: HEIGHT,
    layer: [
      ...curves.flatMap((curve) => strokes(curve, { end, fewFrom }, x, y)),
      ...labels(curves, top, y),
      ...curves.filter(({ steps }) => steps.length > 0).map((curve) => points(curve, x, y)),
    ],
  };
}

/** What is left of a curve where few are at risk. */
const PALE = 0.35;

function strokes(
  { name, steps, last, look }: Curve,
  { end, fewFrom }: Pick<IncidenceRows, "end" | "fewFrom">,
  x: Position,
  y: Position,
): Layer[] {
  const corners = [
    { time: 0, estimate: 0 },
    ...thin(steps, ({ time }) => time, COLUMNS).map(({ time, estimate }) => ({ time, estimate })),
    { time: end, estimate: last },
  ];
  const certain = corners.filter(({ time }) => time <= fewFrom);
  const turn = { time: Math.min(fewFrom, end), estimate: certain.at(-1)?.estimate ?? 0 };
  const part = (values: typeof corners, opacity: number): Layer => ({
    data: { values: values.map((corner) => ({ ...corner, mode: name })) },
    mark: { type: "line", interpolate: "step-after", ...look, strokeDash: [...look.strokeDash] },
    encoding: { x, y, ...unlessPicked(PICKS, opacity) },
  });
  return [
    part([...certain, turn], 1),
    ...(fewFrom < end ? [part([turn, ...corners.slice(certain.length)], PALE)] : []),
  ];
}

/** Names at the ends of the curves, with a thin line from each curve to where its name had to move. */
function labels(curves: Curve[], top: number, y: Position): Layer[] {
  const places = spreadApart(
    curves.map(({ last }) => last),
    (top * 14) / HEIGHT,
    0.02 * top,
    0.98 * top,
  );
  const values = curves.map(({ name, last, look }, index) => ({
    at: last,
    estimate: places[index]!,
    text: `${shortLabel(name, LABEL)} ${shortShare(last)}`,
    color: look.stroke,
  }));
  return [
    {
      data: { values },
      mark: { type: "rule", strokeWidth: 0.75, color: COLOURS.faint },
      encoding: {
        x: { value: "width" },
        x2: { value: { expr: "width + 10" } },
        y: { ...y, field: "at" },
        y2: { field: "estimate" },
      },
    },
    {
      data: { values },
      mark: { type: "text", align: "left", baseline: "middle", dx: 13 },
      encoding: {
        x: { value: "width" },
        y,
        text: { field: "text" },
        color: { field: "color", type: "nominal", scale: null },
      },
    },
  ];
}

function points({ name, steps }: Curve, x: Position, y: Position): Layer {
  return {
    data: { values: thin(steps, ({ time }) => time, COLUMNS / 2).map((step) => ({ ...step, mode: name })) },
    mark: { type: "point", filled: true, size: 40, opacity: 0 },
    encoding: {
      x,
      y,
      tooltip: [
        { field: "mode", title: "Damage mode" },
        { field: "time", title: "Age", format: ",.1~f" },
        { field: "estimate", title: "Share ended", format: ".1%" },
        { field: "low", title: "Lower limit", format: ".1%" },
        { field: "high", title: "Upper limit", format: ".1%" },
      ],
    },
  };
}

function shortShare(share: number): string {
  return `${Number((100 * share).toPrecision(share < 0.1 ? 1 : 2))} %`;
}

function describe(title: string, level: number, curves: Curve[]): string {
  const ends = curves.map(({ name, last }) => `${name} ${shortShare(last)}`).join(", ");
  return `Share of lives ended by each damage mode by age, ${title}; at the longest life: ${ends}. The table has the pointwise ${100 * level} % limits.`;
}
