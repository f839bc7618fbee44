import type { TopLevelSpec } from "vega-lite";
import type { SparesPart } from "../../src/questions/spares-answer.ts";
import { oddsWords } from "../../src/questions/spares-sentence.ts";
import { exactly } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG, SMALL_TITLE } from "./chart-theme.ts";
import { type Pickable, pickingOf } from "./picking.ts";
import type { Layer, Position } from "./spec-types.ts";

const HEIGHT = 150;
const PICKS: Pickable[] = [{ kind: "part", field: "part" }];
/** Where words of rules stand: dots go from the upper left to the lower right. */
const HEAD = 8;
const FOOT = HEIGHT - 10;
/** The rarest shortage that is drawn: of rarer ones the draws tell little. */
const RAREST = 0.005;
const CHANCES = [1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01];
/** Dots of one panel. */
const MOST = 40;

export type StockRisk = Pick<SparesPart, "part" | "stockOutRisk" | "position" | "reorderPoint"> & {
  /** Chance of no shortage asked for. */
  service: number;
};

/**
 * Chance of a shortage before the next order is in, by the stock: dots that fall as stock grows, on a scale of chances. Rules stand at what is
 * there or due and at what to hold; a line lies at the chance asked for.
 */
export function stockRisk({ part, stockOutRisk, position, reorderPoint, service }: StockRisk): TopLevelSpec {
  const dots = dotsOf(stockOutRisk);
  const [from, to] = [dots[0]?.stock ?? 0, Math.max(dots.at(-1)?.stock ?? 0, reorderPoint ?? 0)];
  const x: Position = {
    field: "stock",
    type: "quantitative",
    title: "Stock (pieces)",
    scale: { domain: [from - 0.5, to + Math.max(0.5, 0.04 * (to - from))], nice: false, zero: false },
    axis: { format: "d", tickMinStep: 1, tickCount: 5, grid: false, ...SMALL_TITLE },
  };
  const y: Position = {
    field: "risk",
    type: "quantitative",
    title: "Runs short",
    scale: { type: "log", domain: [RAREST, 1], nice: false },
    axis: {
      values: CHANCES,
      labelExpr: `${JSON.stringify(Object.fromEntries(CHANCES.map((chance) => [chance, chance === 1 ? "certain" : `1 in ${1 / chance}`])))}[datum.value]`,
      labelOverlap: false,
      ...SMALL_TITLE,
    },
  };
  return {
    description: `${part}: chance of a shortage before the next order is in, by stock${position === null ? "" : `; ${exactly(position)} on hand or due in time`}${reorderPoint === null ? "" : `; ${exactly(reorderPoint)} to hold for a chance of at most ${oddsWords(1 - service)}`}.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: HEIGHT,
    layer: [
      {
        data: { values: [{ risk: Math.max(RAREST, 1 - service) }] },
        mark: { type: "rule", color: COLOURS.faint, strokeDash: [2, 2] },
        encoding: { y },
      },
      ...standing({ at: reorderPoint, words: "hold", color: COLOURS.accent, row: HEAD }, [from, to], x),
      ...standing({ at: position, words: "have", color: COLOURS.ink, row: FOOT }, [from, to], x),
      {
        data: { values: dots.map((dot) => ({ ...dot, part, words: oddsWords(dot.risk) })) },
        mark: { type: "point", filled: true, shape: "circle", size: 20, color: COLOURS.ink, opacity: 1 },
        encoding: {
          x,
          y,
          tooltip: [
            { field: "stock", title: "Stock", format: "," },
            { field: "words", title: "Runs short" },
          ],
        },
      },
    ],
  };
}

/** From the last stock that is nearly sure to run short to the first that hardly ever does; of many an even choice. */
export function dotsOf(curve: SparesPart["stockOutRisk"]): SparesPart["stockOutRisk"] {
  const first = curve.findLastIndex(({ risk }) => risk > 0.99);
  const shown = curve.slice(Math.max(0, first)).filter(({ risk }) => risk >= RAREST);
  const every = Math.ceil(shown.length / MOST);
  return shown.filter((_, at) => at % every === 0);
}

type Mark = { at: number | null; words: string; color: string; row: number };

/** A rule at a stock with its words; those of one that lies beyond the axis stand at its foot, where no dots are, with an arrow. */
function standing({ at, words, color, row }: Mark, [from, to]: [number, number], x: Position): Layer[] {
  if (at === null) return [];
  const beyond = at > to || at < from;
  const right = !beyond && at > (from + to) / 2;
  const said = `${words} ${exactly(at)}`;
  const text = { type: "text", align: right ? "right" : "left", dx: right ? -4 : 4, fontSize: 11 } as const;
  const data = {
    values: [{ stock: beyond ? from : at, words: beyond ? (at > to ? `${said} ⟶` : `⟵ ${said}`) : said }],
  };
  const encoding = { x, y: { value: beyond ? FOOT : row }, text: { field: "words" } } as const;
  return [
    ...(beyond ? [] : [{ data, mark: { type: "rule", color, strokeWidth: 1.25 }, encoding: { x } } as const]),
    { data, mark: { ...text, stroke: COLOURS.paper, strokeWidth: 4 }, encoding },
    { data, mark: { ...text, color }, encoding },
  ];
}
