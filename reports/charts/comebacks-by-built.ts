import type { TopLevelSpec } from "vega-lite";
import type { BenchShare } from "../../src/questions/bench-answer.ts";
import { shareWords } from "../../src/questions/bench-sentence.ts";
import { roundTicks } from "../../src/questions/round-ticks.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { dayTicks } from "./day-ticks.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import type { Layer, Position } from "./spec-types.ts";

const HEIGHT = 150;
const PICKS: Pickable[] = [{ kind: "built", field: "name" }];

export type Built = {
  /** As it is called: "2024-03", "2024-Q1". */
  name: string;
  /** Its first day and the day after its last, in milliseconds. */
  from: number;
  to: number;
  builds: number;
  share: BenchShare & { estimate: number };
};

/** Share of builds back for failure inside the limit, by when they were built, with limits; a line is the share of all. */
export function comebacksByBuilt(
  built: Built[],
  { title, days, of, all }: { title: string; days: number; of: string; all: BenchShare },
): TopLevelSpec {
  const most = built.reduce((high, { share }) => Math.max(high, share.high ?? share.estimate), all.estimate ?? 0);
  const top = roundTicks(Math.min(1, most), 5).filter((tick) => tick <= 1);
  const ticks = dayTicks(built.map(({ from }) => new Date(from).toISOString().slice(0, 10))).map(({ at, words }) => ({
    from: built[at]?.from ?? 0,
    words,
  }));
  const x: Position = {
    field: "middle",
    type: "quantitative",
    title: `${of[0]?.toUpperCase()}${of.slice(1)} built`,
    scale: { domain: [built[0]?.from ?? 0, built.at(-1)?.to ?? 1], nice: false, zero: false },
    axis: {
      values: ticks.map(({ from }) => from),
      labelExpr: `${JSON.stringify(Object.fromEntries(ticks.map(({ from, words }) => [from, words])))}[datum.value]`,
      grid: false,
    },
  };
  const y: Position = {
    field: "estimate",
    type: "quantitative",
    title: `Back within ${days} days`,
    scale: { domain: [0, Math.max(top.at(-1) ?? 1, Math.min(1, most))], nice: false },
    axis: { values: top, format: ".0%" },
  };
  const values = built.map(({ name, from, to, builds, share }) => ({
    name,
    middle: (from + to) / 2,
    builds,
    count: share.count,
    estimate: share.estimate,
    low: share.low ?? share.estimate,
    high: share.high ?? share.estimate,
    words: shareWords(share),
  }));
  const { line, words } = allLayers(all, y);
  const tooltip = [
    { field: "name", title: "Built" },
    { field: "builds", title: "Builds", format: "," },
    { field: "count", title: "Back for failure", format: "," },
    { field: "words", title: "Share" },
  ];
  return {
    description: `Share of builds back for failure within ${days} days, ${title}, by ${of} built: ${built
      .slice(-8)
      .map(({ name, share }) => `${name} ${shareWords(share)}`)
      .join("; ")}${all.estimate === null ? "" : `; all ${shareWords(all)}`}.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: HEIGHT,
    layer: [
      ...line,
      {
        data: { values },
        mark: { type: "rule", color: COLOURS.faint, strokeWidth: 1.5 },
        encoding: { x, y: { ...y, field: "low" }, y2: { field: "high" }, ...unlessPicked(PICKS), tooltip },
      },
      {
        data: { values },
        mark: { type: "point", filled: true, shape: "circle", color: COLOURS.ink, size: 34, opacity: 1 },
        encoding: { x, y, ...unlessPicked(PICKS), tooltip },
      },
      ...words,
    ],
  };
}

/** The share of all: its line lies under the others, its words over them on a strip of paper. */
function allLayers(all: BenchShare, y: Position): { line: Layer[]; words: Layer[] } {
  if (all.estimate === null) return { line: [], words: [] };
  const data = { values: [{ estimate: all.estimate, words: `all ${shareWords({ ...all, low: null, high: null })}` }] };
  const text = { type: "text", align: "left", dx: 3, baseline: "bottom", dy: -2 } as const;
  const encoding = { x: { value: 0 }, y, text: { field: "words" } } as const;
  return {
    line: [{ data, mark: { type: "rule", color: COLOURS.accent, strokeWidth: 1 }, encoding: { y } }],
    words: [
      { data, mark: { ...text, stroke: COLOURS.paper, strokeWidth: 4, opacity: 0.9 }, encoding },
      { data, mark: { ...text, color: COLOURS.accent }, encoding },
    ],
  };
}
