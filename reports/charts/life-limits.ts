import type { TopLevelSpec } from "vega-lite";
import type { Estimate } from "../../src/questions/estimate.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { LABEL_ROOM } from "./label-room.ts";
import { logTimeAxis } from "./log-time-axis.ts";
import { heavyIfPicked, type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import type { Position } from "./spec-types.ts";

const ROW = 54;
const PICKS: Pickable[] = [{ kind: "slot", field: "label" }];
/** Where the two figures of a row stand, from its middle. */
const OFFSET = { L10: -6, median: 19 };

export type LimitRow = {
  /** One line, or two with a line break between. */
  label: string;
  l10: Estimate;
  median: Estimate;
};

/** L10 and median of each group as a point on its interval, the shortest interval being the surest. */
export function lifeLimits(
  rows: LimitRow[],
  { level, timeTitle, title }: { level: number; timeTitle: string; title: string },
): TopLevelSpec {
  const known = rows.filter(({ l10 }) => l10.estimate !== null);
  const [from, to] = span(known);
  const values = known.flatMap(({ label, l10, median }) => [
    ...mark(label, "L10", l10, from, to),
    ...mark(label, "median", median, from, to),
  ]);
  const x = logTimeAxis(timeTitle, [from, to]);
  const y: Position = {
    field: "label",
    type: "nominal",
    sort: known.map(({ label }) => label),
    title: null,
    axis: {
      labelLimit: LABEL_ROOM,
      labelExpr: "split(datum.label, '\\n')",
      labelColor: COLOURS.ink,
      labelFontSize: 11.5,
      labelFontWeight: heavyIfPicked("slot", "datum.value"),
      domain: false,
      ticks: false,
      grid: true,
      bandPosition: 0,
    },
  };
  const half = (figure: keyof typeof OFFSET) => {
    const offset = OFFSET[figure];
    const data = { values: values.filter((value) => value.figure === figure) };
    const color = figure === "L10" ? COLOURS.accent : COLOURS.ink;
    const tooltip = [
      { field: "label", title: "Slot" },
      { field: "words", title: figure },
    ];
    return [
      {
        data,
        mark: { type: "rule", yOffset: offset, strokeWidth: 2.5, color, clip: true },
        encoding: { x: { ...x, field: "low" }, x2: { field: "high" }, y, ...unlessPicked(PICKS), tooltip },
      },
      {
        data,
        mark: {
          type: "point",
          yOffset: offset,
          filled: true,
          size: 60,
          shape: figure === "L10" ? "circle" : "diamond",
          color,
        },
        encoding: { x, y, ...unlessPicked(PICKS), tooltip },
      },
      {
        data,
        mark: { type: "text", yOffset: offset - 11, fontSize: 10.5, color },
        encoding: { x, y, text: { field: "text" } },
      },
    ] as const;
  };
  return {
    description: `L10 and median with ${100 * level} % intervals, ${title}: ${known.map(({ label, l10, median }) => `${label} L10 ${inWords(l10.estimate ?? 0)}, median ${median.estimate === null ? "not known" : inWords(median.estimate)}`).join("; ")}.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: Math.max(1, known.length) * ROW,
    layer: [...half("L10"), ...half("median")],
  };
}

/** From the least to the greatest limit, four decades at most: an end without a limit must not stretch the axis. */
function span(rows: LimitRow[]): [number, number] {
  const ages = rows
    .flatMap(({ l10, median }) => [l10.low, l10.estimate, l10.high, median.low, median.estimate, median.high])
    .filter((age): age is number => age !== null && age > 0);
  if (ages.length === 0) return [1, 10];
  const centre = Math.max(...rows.map(({ l10 }) => l10.estimate ?? 0));
  const low = Math.max(Math.min(...ages), centre / 100);
  return [low * 0.8, Math.max(Math.min(Math.max(...ages), centre * 100), 2 * low) * 1.25];
}

function mark(label: string, figure: string, { estimate, low, high }: Estimate, from: number, to: number) {
  if (estimate === null) return [];
  const within = (age: number) => Math.min(Math.max(age, from), to);
  return [
    {
      label,
      figure,
      time: within(estimate),
      low: within(low ?? from),
      high: within(high ?? to),
      text: `${figure} ${inWords(estimate)}`,
      words: withLimits({ estimate, low, high }, ""),
    },
  ];
}
