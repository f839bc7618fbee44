import type { TopLevelSpec } from "vega-lite";
import type { Entity } from "../../src/questions/offenders-answer.ts";
import { roundLogTicks, roundTicks } from "../../src/questions/round-ticks.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { funnelLimits } from "./funnel-limits.ts";
import { OFFENDER_TOOLTIP, type OffenderPoint, offenderPoint, VERDICTS } from "./offender-point.ts";
import { type Pickable, pickingOf, strongerIfPicked, unlessPicked } from "./picking.ts";
import { shortLabel } from "./short-label.ts";
import type { Layer, Position } from "./spec-types.ts";

const HEIGHT = 320;
/** Points that are drawn; of more within chance an even share. */
export const MOST_POINTS = 1200;
/** Names that there is room for. */
const MOST_NAMES = 15;
/** Height of a name, and how far along the axis it reaches, as a share of it. */
const NAME = { height: 13, reach: 0.2 };
/** Of a wider span of expected numbers the axis is logarithmic. */
const WIDE = 12;

const LIMITS = [
  { level: 0.95, words: "95 %", dash: [5, 3], width: 1 },
  { level: 0.998, words: "99.8 %", dash: [1, 0], width: 1 },
] as const;

/** Failures over those expected, against those expected, between the limits of pure chance; who stands out by name. */
export function funnel(
  entities: Entity[],
  { title, of, picks = [] }: { title: string; of: string; picks?: Pickable[] },
): TopLevelSpec {
  const all = entities.map(offenderPoint).filter((point) => point !== null);
  const points = drawn(all);
  const expected = points.map((point) => point.expected);
  const axis = expectedAxis(expected.toSorted((one, other) => one - other));
  const top = roundTicks(topOf(points), 6);
  const height = top.at(-1) ?? 1;
  const y: Position = {
    field: "ratio",
    type: "quantitative",
    title: "Failures over expected",
    scale: { domain: [0, height], nice: false },
    axis: { values: top, format: ",~r" },
  };
  const { x } = axis;
  const out = points.filter(({ verdict }) => verdict !== "within chance");
  return {
    description: `${title}: failures over expected failures against expected failures of ${all.length} ${of}, with exact 95 % and 99.8 % limits of chance. ${
      out.length === 0
        ? "None stands out"
        : `Standing out: ${out
            .slice(0, MOST_NAMES)
            .map(({ id, events, expectedWords }) => `${id} (${events}, expected ${expectedWords})`)
            .join(", ")}`
    }.`,
    config: CHART_CONFIG,
    ...pickingOf(picks),
    height: HEIGHT,
    layer: [
      { data: { values: [{ ratio: 1 }] }, mark: { type: "rule", color: COLOURS.faint }, encoding: { y } },
      ...LIMITS.flatMap((limit) => limitLayers(limit, axis, x, y)),
      ...limitNames(axis, height, x, y),
      ...pointLayers(points, height, { x, y, picks }),
      ...nameLayers(out.slice(0, MOST_NAMES), axis, height, x, y),
    ],
  };
}

/** All that stand out, and of the others as many as there is room for, evenly over the list. */
function drawn(points: OffenderPoint[]): OffenderPoint[] {
  const out = points.filter(({ verdict }) => verdict !== "within chance").slice(0, MOST_POINTS);
  const others = points.filter(({ verdict }) => verdict === "within chance");
  const room = MOST_POINTS - out.length;
  if (others.length <= room) return [...others, ...out];
  return [...Array.from({ length: room }, (_, at) => others[Math.floor((at * others.length) / room)]!), ...out];
}

/** High enough for whoever stands out and for all that have an event's worth expected: a ratio on next to nothing must not flatten the rest. */
function topOf(points: OffenderPoint[]): number {
  const telling = points.filter(({ expected, verdict }) => expected >= 1 || verdict !== "within chance");
  return 1.08 * Math.max(2.5, ...telling.map(({ ratio }) => ratio));
}

type Axis = { from: number; to: number; share: (expected: number) => number; x: Position };

/** Logarithmic where all but the lowest tenth lie over a wide span: a few with next to nothing expected must not crowd the others. */
function expectedAxis(expected: number[]): Axis {
  const [least, most] = [expected[0] ?? 1, expected.at(-1) ?? 1];
  const isLog = most / (expected[Math.floor(expected.length / 10)] ?? most) > WIDE;
  const [from, to] = isLog ? [least / 1.15, most * 1.15] : [0, 1.06 * most];
  const share = (expected: number) =>
    isLog ? Math.log(expected / from) / Math.log(to / from) : (expected - from) / (to - from);
  const ticks = isLog ? roundLogTicks(from, to) : roundTicks(to, 8).filter((tick) => tick <= to);
  return {
    from,
    to,
    share,
    x: {
      field: "expected",
      type: "quantitative",
      title: "Failures expected at the ages run through",
      scale: { ...(isLog && { type: "log" }), domain: [from, to], nice: false },
      axis: { values: ticks, format: ",~r" },
    },
  };
}

function limitLayers(
  { level, dash, width }: (typeof LIMITS)[number],
  { from, to }: Axis,
  x: Position,
  y: Position,
): Layer[] {
  const { upper, lower } = funnelLimits(to, level);
  return [upper, lower].map((knots): Layer => {
    // One knot to the left of the axis: the line must come in from there.
    const start = Math.max(0, knots.findIndex(({ expected }) => expected >= from) - 1);
    return {
      data: { values: knots.slice(start).filter(({ expected }) => expected > 0) },
      mark: { type: "line", clip: true, color: COLOURS.soft, strokeWidth: width, strokeDash: [...dash] },
      encoding: { x, y },
    };
  });
}

/** The level of each curve at its right end, outside the frame. */
function limitNames({ to }: Axis, height: number, x: Position, y: Position): Layer[] {
  const ends = LIMITS.flatMap(({ level, words }) => {
    const { upper } = funnelLimits(to, level);
    return [{ expected: to, ratio: Math.min(along(upper, to), height), words }];
  });
  const [inner, outer] = ends;
  const gap = (12 / HEIGHT) * height;
  if (inner !== undefined && outer !== undefined && outer.ratio - inner.ratio < gap) {
    outer.ratio = Math.min(inner.ratio + gap, height);
    inner.ratio = outer.ratio - gap;
  }
  return [
    {
      data: { values: [{ expected: to, ratio: 1, words: "as expected" }, ...ends] },
      mark: { type: "text", align: "left", baseline: "middle", dx: 5, fontSize: 10.5, color: COLOURS.soft },
      encoding: { x, y, text: { field: "words" } },
    },
  ];
}

/** Height of a curve between its knots. */
function along(knots: { expected: number; ratio: number }[], at: number): number {
  const after = knots.findIndex(({ expected }) => expected >= at);
  const [low, high] = [knots[after - 1], knots[after]];
  if (high === undefined) return knots.at(-1)?.ratio ?? 1;
  if (low === undefined) return high.ratio;
  return low.ratio + ((at - low.expected) / (high.expected - low.expected)) * (high.ratio - low.ratio);
}

type PointAxes = { x: Position; y: Position; picks: Pickable[] };

function pointLayers(points: OffenderPoint[], height: number, { x, y, picks }: PointAxes): Layer[] {
  return (["within chance", "watch", "offender"] as const).flatMap((verdict): Layer[] => {
    const values = points
      .filter((point) => point.verdict === verdict)
      .map((point) => ({ ...point, ratio: Math.min(point.ratio, height) }));
    if (values.length === 0) return [];
    const { shape, stroke, fill, size } = VERDICTS[verdict];
    return [
      {
        data: { values },
        mark: { type: "point", shape, stroke, fill, size },
        encoding: {
          x,
          y,
          ...unlessPicked(picks, verdict === "within chance" ? 0.8 : 1),
          ...strongerIfPicked(picks, 1.3),
          tooltip: OFFENDER_TOOLTIP,
        },
      },
    ];
  });
}

/** Names beside their points, one above the other where they would lie on each other; to the left of points at the right edge. */
function nameLayers(out: OffenderPoint[], { share }: Axis, height: number, x: Position, y: Position): Layer[] {
  const placed: { along: number; ratio: number }[] = [];
  const gap = (NAME.height / HEIGHT) * height;
  const values = out
    .toSorted((one, other) => one.ratio - other.ratio)
    .map(({ id, expected, ratio }) => {
      const at = { along: share(expected), ratio };
      for (const other of placed)
        if (Math.abs(other.along - at.along) < NAME.reach && at.ratio - other.ratio < gap) at.ratio = other.ratio + gap;
      placed.push(at);
      return { expected, ratio: at.ratio, name: shortLabel(id, 20), isLeft: at.along > 0.85 };
    });
  return [false, true].flatMap((isLeft): Layer[] => {
    const own = values.filter((value) => value.isLeft === isLeft);
    if (own.length === 0) return [];
    const [align, dx] = isLeft ? (["right", -8] as const) : (["left", 8] as const);
    return [
      {
        data: { values: own },
        mark: { type: "text", align, dx, baseline: "middle", fontSize: 11, fontWeight: 600, color: COLOURS.accent },
        encoding: { x, y, text: { field: "name" } },
      },
    ];
  });
}
