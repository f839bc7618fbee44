import type { TopLevelSpec } from "vega-lite";
import type { Entity } from "../../src/questions/offenders-answer.ts";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { LABEL_ROOM } from "./label-room.ts";
import { OFFENDER_TOOLTIP, type OffenderPoint, offenderPoint, VERDICTS } from "./offender-point.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import { shortLabel } from "./short-label.ts";
import type { Layer, Position } from "./spec-types.ts";

const ROW = 17;
/** Signs of a name that fit beside the rows. */
const LABEL = 22;

/** Two thin lines crossed, as an outline for marks. */
const PLUS = "M-1,0L1,0M0,-1L0,1";

/** Rows that a page has room for. */
export const MOST_RATIOS = 40;

type Row = OffenderPoint & { base: number; estimate: number; low: number; high: number };

/** The worst by their shrunken ratio, each with its interval, and as a cross what was counted; 1 is ordinary. */
export function ratiosInOrder(
  entities: Entity[],
  { title, level, picks = [] }: { title: string; level: number; picks?: Pickable[] },
): TopLevelSpec {
  const rows = inOrder(entities);
  const height = Math.max(3, rows.length) * ROW;
  // Limits and counts far out must not flatten the others.
  const most = Math.max(...rows.flatMap(({ estimate }) => 3 * estimate), 2);
  const ticks = roundTicks(Math.min(Math.max(...rows.flatMap(({ high, ratio }) => [high, ratio]), 1.5), most), 6);
  const end = ticks.at(-1) ?? 1;
  const x = (field: string): Position => ({
    field,
    type: "quantitative",
    title: "Times the ordinary rate",
    scale: { domain: [0, end], nice: false },
    axis: { values: ticks, format: ",~r" },
  });
  const y: Position = {
    field: "base",
    type: "quantitative",
    title: null,
    scale: { domain: [height, 0], nice: false, zero: false },
    axis: {
      values: rows.map(({ base }) => base),
      labelExpr: `${JSON.stringify(Object.fromEntries(rows.map(({ base, id }) => [base, shortLabel(id, LABEL)])))}[datum.value]`,
      labelLimit: LABEL_ROOM,
      labelColor: COLOURS.ink,
      labelOverlap: false,
      labelPadding: 7,
      domain: false,
      ticks: false,
      grid: false,
    },
  };
  const within = (value: number) => Math.min(value, end);
  const values = rows.map((row) => ({
    ...row,
    low: within(row.low),
    high: within(row.high),
    estimate: within(row.estimate),
    ratio: within(row.ratio),
  }));
  return {
    description: `${title}: times the ordinary rate after shrinkage, with ${100 * level} % intervals, highest first: ${rows
      .slice(0, 10)
      .map(({ id, shrunkenWords }) => `${id} ${shrunkenWords}`)
      .join("; ")}.`,
    config: CHART_CONFIG,
    ...pickingOf(picks),
    height,
    layer: [
      { data: { values: [{ one: 1 }] }, mark: { type: "rule", color: COLOURS.faint }, encoding: { x: x("one") } },
      {
        data: { values },
        mark: {
          type: "point",
          shape: PLUS,
          size: 40,
          stroke: COLOURS.ink,
          strokeWidth: 1,
          fill: "transparent",
        },
        encoding: { x: x("ratio"), y, ...unlessPicked(picks), tooltip: OFFENDER_TOOLTIP },
      },
      ...(["within chance", "watch", "offender"] as const).flatMap((verdict) =>
        verdictLayers(
          verdict,
          values.filter((row) => row.verdict === verdict),
          { x, y, picks },
        ),
      ),
    ],
  };
}

function verdictLayers(
  verdict: Entity["verdict"],
  values: Row[],
  { x, y, picks }: { x: (field: string) => Position; y: Position; picks: Pickable[] },
): Layer[] {
  if (values.length === 0) return [];
  const { shape, stroke, fill, size } = VERDICTS[verdict];
  return [
    {
      data: { values },
      mark: { type: "rule", strokeWidth: 2, color: stroke },
      encoding: { x: x("low"), x2: { field: "high" }, y, ...unlessPicked(picks), tooltip: OFFENDER_TOOLTIP },
    },
    {
      data: { values },
      mark: { type: "point", shape, stroke, fill, size: Math.max(size - 15, 36), strokeWidth: 1.4 },
      encoding: { x: x("estimate"), y, ...unlessPicked(picks), tooltip: OFFENDER_TOOLTIP },
    },
  ];
}

/** Those that have a ratio, the highest first, as many as there is room for. */
function inOrder(entities: Entity[]): Row[] {
  return inOrderOfRatio(entities)
    .slice(0, MOST_RATIOS)
    .flatMap((entity, place) => {
      const point = offenderPoint(entity);
      const { estimate, low, high } = entity.shrunkenRatio;
      if (point === null || estimate === null) return [];
      return [{ ...point, base: (place + 0.5) * ROW, estimate, low: low ?? 0, high: high ?? estimate }];
    });
}

/** Those of which the shrunken ratio is known, the highest first. */
export function inOrderOfRatio(entities: Entity[]): Entity[] {
  return entities
    .filter(({ shrunkenRatio, expected }) => shrunkenRatio.estimate !== null && expected > 0)
    .toSorted((one, other) => (other.shrunkenRatio.estimate ?? 0) - (one.shrunkenRatio.estimate ?? 0));
}
