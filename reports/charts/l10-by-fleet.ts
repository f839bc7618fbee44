import type { TopLevelSpec } from "vega-lite";
import type { Estimate } from "../../src/questions/estimate.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { LABEL_ROOM } from "./label-room.ts";
import { logTimeAxis } from "./log-time-axis.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import { shortLabel } from "./short-label.ts";
import type { Layer, Position } from "./spec-types.ts";

/** A row, and one that has a second figure under the first. */
const ROW = 30;
const DOUBLE_ROW = 44;
const HEAD = 24;
/** Signs of a fleet's name that fit beside the rows. */
const LABEL = 28;

const PICKS: Pickable[] = [
  { kind: "fleet", field: "fleet" },
  { kind: "slot", field: "slot" },
];

/** Rows that a page has room for; the table has all. */
export const MOST_FLEET_ROWS = 60;

type FleetL10 = {
  fleet: string;
  l10: Estimate;
  /** The same when the fleet borrows from the others, and how far that moved it ("+8 %"). */
  pooled: { l10: Estimate; moved: string | null } | null;
};

export type SlotL10 = { slot: string; fleets: FleetL10[] };

type Mark = {
  base: number;
  time: number;
  low: number;
  high: number;
  text: string;
  slot: string;
  fleet: string;
  words: string;
  /** Its bar ends so far to the right that no words fit beside it on a narrow screen. */
  crowded: boolean;
};

/** The part of the axis beyond which that is so. */
const CROWDED = 0.65;

/** L10 of every fleet on one logarithmic axis, slot by slot, so that fleets are read against each other. */
export function l10ByFleet(slots: SlotL10[], { level, timeTitle }: { level: number; timeTitle: string }): TopLevelSpec {
  const { rows, heads, height } = layOut(slots);
  const [from, to] = span(rows.map(({ row }) => row));
  const mark = (base: number, { slot, fleet }: Row, { estimate, ...limits }: Estimate, extra = ""): Mark[] => {
    if (estimate === null) return [];
    const within = (age: number) => Math.min(Math.max(age, from), to);
    return [
      {
        base,
        slot,
        fleet,
        time: within(estimate),
        low: within(limits.low ?? from),
        high: within(limits.high ?? to),
        crowded: Math.log(within(limits.high ?? to) / from) > CROWDED * Math.log(to / from),
        text: `${inWords(estimate)}${extra}`,
        words: withLimits({ estimate, ...limits }, ""),
      },
    ];
  };
  const own = rows.flatMap(({ base, row }) => mark(base + (row.pooled === null ? 2 : -5), row, row.l10));
  const pooled = rows.flatMap(({ base, row }) =>
    row.pooled === null
      ? []
      : mark(base + 12, row, row.pooled.l10, row.pooled.moved === null ? "" : ` (${row.pooled.moved})`),
  );
  const x = logTimeAxis(timeTitle, [from, to]);
  const y: Position = {
    field: "base",
    type: "quantitative",
    title: null,
    scale: { domain: [height, 0], nice: false, zero: false },
    axis: {
      values: rows.map(({ base }) => base),
      labelExpr: `${JSON.stringify(Object.fromEntries(rows.map(({ base, row }) => [base, shortLabel(row.fleet, LABEL)])))}[datum.value]`,
      labelLimit: LABEL_ROOM,
      labelColor: COLOURS.ink,
      labelFontSize: 11.5,
      labelOverlap: false,
      labelPadding: 7,
      domain: false,
      ticks: false,
      grid: false,
    },
  };
  return {
    description: `L10 with its ${100 * level} % interval by slot and fleet: ${slots.map(({ slot, fleets }) => `${slot}: ${fleets.map(({ fleet, l10 }) => `${fleet} ${l10.estimate === null ? "not known" : inWords(l10.estimate)}`).join(", ")}`).join("; ")}.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height,
    layer: [...headLayers(heads, y), ...ownLayers(own, x, y), ...pooledLayers(pooled, x, y)],
  };
}

type Row = FleetL10 & { slot: string };

/** Heights of the rows, each slot with its name above its fleets. */
function layOut(slots: SlotL10[]) {
  const rows: { base: number; row: Row }[] = [];
  const heads: { base: number; text: string }[] = [];
  let height = 0;
  for (const { slot, fleets } of slots) {
    heads.push({ base: height + HEAD - 8, text: shortLabel(slot, 60) });
    height += HEAD;
    for (const row of fleets) {
      const own = row.pooled === null ? ROW : DOUBLE_ROW;
      rows.push({ base: height + own / 2, row: { ...row, slot } });
      height += own;
    }
  }
  return { rows, heads, height: Math.max(height, ROW) };
}

function headLayers(heads: { base: number; text: string }[], y: Position): Layer[] {
  const edges = heads.slice(1).map(({ base }) => ({ base: base - HEAD + 8 }));
  const line: Layer = {
    data: { values: edges },
    mark: { type: "rule", color: COLOURS.hair, strokeWidth: 1 },
    encoding: { y },
  };
  return [
    ...(edges.length === 0 ? [] : [line]),
    {
      data: { values: heads },
      mark: {
        type: "text",
        align: "left",
        baseline: "bottom",
        dx: 5,
        fontWeight: 600,
        fontSize: 11.5,
        limit: { expr: "width - 10" },
      },
      encoding: { x: { value: 0 }, y, text: { field: "text" } },
    },
  ];
}

function ownLayers(values: Mark[], x: Position, y: Position): Layer[] {
  const color = COLOURS.accent;
  const tooltip = [
    { field: "fleet", title: "Fleet" },
    { field: "words", title: "L10" },
  ];
  return marksOf(values, x, y, { color, width: 2.5, fill: color, dy: -10, tooltip });
}

function pooledLayers(values: Mark[], x: Position, y: Position): Layer[] {
  const tooltip = [
    { field: "fleet", title: "Fleet" },
    { field: "words", title: "L10, borrowing from the others" },
  ];
  return marksOf(values, x, y, { color: COLOURS.soft, width: 1.25, fill: COLOURS.paper, dy: 0, tooltip });
}

type Look = { color: string; width: number; fill: string; dy: number; tooltip: { field: string; title: string }[] };

/** Intervals, dots and figures of one kind: the figures of the first kind above their dots, of the second beside their bars. */
function marksOf(values: Mark[], x: Position, y: Position, { color, width, fill, dy, tooltip }: Look): Layer[] {
  if (values.length === 0) return [];
  const data = { values };
  return [
    {
      data,
      mark: { type: "rule", strokeWidth: width, color },
      encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y, ...unlessPicked(PICKS), tooltip },
    },
    {
      data,
      mark: { type: "point", size: 55, stroke: color, strokeWidth: 1.4, fill },
      encoding: { x, y, ...unlessPicked(PICKS), tooltip },
    },
    ...figureLayers(values, x, y, { color, dy }),
  ];
}

/** Figures above dots; beside bars on the right, or on the left where a phone has no room for them. */
function figureLayers(values: Mark[], x: Position, y: Position, { color, dy }: Pick<Look, "color" | "dy">): Layer[] {
  const layer = (some: Mark[], align: "left" | "right" | "center", dx: number, at: Position): Layer[] =>
    some.length === 0
      ? []
      : [
          {
            data: { values: some },
            mark: { type: "text", fontSize: 10.5, color, align, baseline: "middle", dx, dy },
            encoding: { x: at, y, text: { field: "text" } },
          },
        ];
  if (dy !== 0) return layer(values, "center", 0, x);
  const leftward = values.filter(({ crowded }) => crowded);
  const rightward = values.filter(({ crowded }) => !crowded);
  return [
    ...layer(rightward, "left", 6, { ...x, field: "high" }),
    ...layer(leftward, "right", -6, { ...x, field: "low" }),
  ];
}

/** From the least to the greatest limit, two decades to either side of the largest L10 at most: an open end must not stretch the axis. */
function span(rows: FleetL10[]): [number, number] {
  const figures = rows.flatMap(({ l10, pooled }) => [l10, ...(pooled === null ? [] : [pooled.l10])]);
  const known = figures.filter(({ estimate }) => estimate !== null);
  const ages = known
    .flatMap(({ low, estimate, high }) => [low, estimate, high])
    .filter((age): age is number => age !== null && age > 0);
  if (ages.length === 0) return [1, 10];
  const centre = Math.max(...known.map(({ estimate }) => estimate ?? 0));
  const low = Math.max(Math.min(...ages), centre / 100);
  const high = Math.max(Math.min(Math.max(...ages), centre * 100), 2 * low);
  return [low * 0.85, high * (high / low) ** 0.12];
}
