import type { Estimate } from "../../src/questions/estimate.ts";
import type { PlannedAge, SparesAnswer, SparesPart } from "../../src/questions/spares-answer.ts";
import type {
  BacktestScore,
  BacktestSeries,
  BacktestWindow,
  SparesBacktest,
} from "../../src/questions/spares-backtest-answer.ts";

/*
 * A forecast of spares as the question gives it, put together from a few plain formulas so that the page has something plausible to show.
 * Input to the tests of the page, never an expected value of a statistic.
 */

const range = (mean: number, spread: number): Estimate & { low: number; high: number } => ({
  estimate: mean,
  low: Math.max(0, Math.floor(mean - spread)),
  high: Math.ceil(mean + spread),
});

function monthName(at: number): string {
  return `${2024 + Math.floor((at + 6) / 12)}-${String(((at + 6) % 12) + 1).padStart(2, "0")}`;
}

/** A part of which so many pieces are used in a year; 13 on hand and due, 18 to hold. */
export function sparesPartOf(part: string, aYear: number, more: Partial<SparesPart> = {}): SparesPart {
  const spread = 2 * Math.sqrt(aYear);
  return {
    part,
    title: `Title of ${part}`,
    goesInto: [{ slot: "drive_end_bearings", quantity: 1 }],
    expected: range(aYear, spread),
    byMonth: Array.from({ length: 12 }, (_, at) => {
      const mean = (aYear * (at + 1)) / 12;
      const wide = 2 * Math.sqrt(mean);
      const { low, high } = range(mean, 0.65 * wide);
      return {
        month: monthName(at),
        expected: range(aYear / 12, 2 * Math.sqrt(aYear / 12)),
        soFar: range(mean, wide),
        median: Math.round(mean),
        inner: { low, high },
      };
    }),
    quantiles: [{ p: 0.5, pieces: Math.round(aYear) }],
    past: {
      ...{ months: 36, pieces: Math.round(3 * aYear * 0.9), perYear: aYear * 0.9, dispersion: 1.1, disagrees: false },
      forecast: range(aYear * 0.9, spread),
    },
    stock: {
      onHand: 9,
      onOrder: 4,
      dueOn: "2024-07-20",
      due: [{ on: "2024-07-20", pieces: 4 }],
      countedOn: "2024-06-28",
      from: "the records",
    },
    leadTime: { days: 45, low: 30, high: 70, from: "part" },
    position: 13,
    noShortage: 0.6,
    fillRate: 0.9,
    readyRate: 0.65,
    reorderPoint: 18,
    orderBy: "2024-06-30",
    orderNow: true,
    orderQuantity: 10,
    // A chance that falls by a third with each piece beyond ten
    stockOutRisk: Array.from({ length: 31 }, (_, stock) => ({ stock, risk: stock < 10 ? 1 : (2 / 3) ** (stock - 10) })),
    apart: 24,
    slowMover: false,
    cost: { price: 38.5, currency: "EUR", use: range(38.5 * aYear, 38.5 * spread), order: 385 },
    worthHolding: null,
    reasons: [],
    ...more,
  };
}

/** Nothing to order, and a day by which to. */
const LATER: Partial<SparesPart> = {
  ...{ position: 30, noShortage: 0.9995, orderBy: "2024-11-04", orderNow: false, orderQuantity: 0 },
  stock: { onHand: 30, onOrder: 0, dueOn: null, due: [], countedOn: "2024-06-28", from: "the records" },
};

/** Of which no lead time is known. */
const UNKNOWN: Partial<SparesPart> = {
  ...{ leadTime: null, position: null, noShortage: null, fillRate: null, readyRate: null, reorderPoint: null },
  ...{ orderBy: null, orderNow: null, orderQuantity: null, stockOutRisk: [], apart: null, cost: null },
  reasons: ["no lead time is known"],
};

export function plannedAgeOf(slot: string, more: Partial<PlannedAge> = {}): PlannedAge {
  return {
    fleet: "saltmere",
    slot,
    shape: 2.6,
    failed: 41,
    worth: true,
    age: 6000,
    saving: { estimate: 0.2, low: 0.08, high: 0.3 },
    aYear: { estimate: 12_000, low: 4800, high: 18_000 },
    chanceOfSaving: 0.99,
    bestAge: { low: 5200, high: 7100 },
    curve: Array.from({ length: 30 }, (_, at) => {
      const age = 600 * (at + 1);
      return { age, rate: 0.4 * (6000 / age + age / 6000) };
    }),
    ...more,
  };
}

const NOT_WORTH: Partial<PlannedAge> = {
  ...{ worth: false, age: null, saving: null, aYear: null, chanceOfSaving: null, bestAge: null, curve: [] },
};

export function sparesAnswerOf(more: Partial<SparesAnswer> = {}): SparesAnswer {
  return {
    schema: 1,
    command: "spares",
    answer: "Order 1 of 4 parts now: 10 QB-31; over the next 12 months 60 (45 to 76) frames will be opened.",
    asOf: "2024-06-30",
    clock: "hours",
    level: 0.95,
    basis: { units: 60, lives: 900, failed: 240, leftOut: {} },
    warnings: ["the age of 1 component in service is not known"],
    rows: "framelife query --as-of 2024-06-30 \"select * from life where (status = 'running')\"",
    horizon: 12,
    service: 0.95,
    reviewDays: 30,
    draws: 2000,
    seed: 1,
    openings: range(60, 15),
    exchange: { turnaroundDays: 12, openingsAMonth: 5, frames: 5 },
    parts: [
      sparesPartOf("QG-60", 55, LATER),
      sparesPartOf("QB-31", 60),
      sparesPartOf("QO-12", 180, { ...LATER, orderBy: null }),
      sparesPartOf("QH-05", 60, UNKNOWN),
    ],
    laws: [
      {
        ...{ fleet: "saltmere", slot: "drive_end_bearings", shape: 2.1, scale: 9800, failed: 41 },
        ...{ from: "fleet", renewed: 0.99 },
      },
      {
        ...{ fleet: "ostrel", slot: "shaft_sleeve", shape: 1.5, scale: null, failed: 0 },
        ...{ from: "all fleets", renewed: 0.3 },
      },
    ],
    backtest: null,
    replace: {
      costs: { planned: 2400, unplanned: 6800, currency: "EUR", source: "workshop ledger" },
      rows: [
        plannedAgeOf("shaft_sleeve"),
        plannedAgeOf("drive_end_seals", {
          ...NOT_WORTH,
          reason: "failures do not credibly rise with age: shape 1.1 (0.8 to 1.4)",
        }),
        plannedAgeOf("drive_end_seals", {
          ...NOT_WORTH,
          fleet: "ostrel",
          reason: "failures do not credibly rise with age: shape 1.2 (0.9 to 1.6)",
        }),
      ],
    },
    whatIf: null,
    ...more,
  };
}

function windowOf(at: number): BacktestWindow {
  const year = 2019 + Math.floor(at / 4);
  const quarter = ["03-31", "06-30", "09-30", "12-31"][at % 4];
  return {
    origin: `${year}-${quarter}`,
    to: `${year + 1}-${quarter}`,
    isApart: at % 4 === 3,
    used: 52 + ((at * 7) % 15),
    usedByNew: 0,
    expected: range(58, 16),
    inner: { low: 48, high: 68 },
    transform: 0.5,
  };
}

const score = (loss: number): BacktestScore => ({
  forecast: 58,
  ratio: 1,
  loss,
  coverage: [0.8, 0.95].map((level) => ({ level, randomised: range(level, 0), plain: range(level + 0.04, 0) })),
});

function seriesOf(better: boolean): BacktestSeries {
  const windows = Array.from({ length: 12 }, (_, at) => windowOf(at));
  return {
    used: windows.reduce((sum, { used }) => sum + used, 0),
    usedByNew: 0,
    lives: score(2.5),
    rivals: [
      { ...score(4.1), name: "last year's use", better: false },
      { ...score(better ? 2.1 : 3.2), name: "mean rate", better },
      { ...score(3.9), name: "smoothed demand", better: false },
    ],
    windows,
  };
}

export function backtestOf(more: Partial<SparesBacktest> = {}): SparesBacktest {
  const openings = seriesOf(false);
  return {
    answer: "Of 12 past forecasts of a year the mean was 58 frames opened where 59 were.",
    warnings: ["only 3 past years that stand apart"],
    recordsFrom: "2016-01-01",
    months: 12,
    step: 3,
    quantiles: [0.1, 0.5, 0.9],
    draws: 2000,
    seed: 1,
    origins: openings.windows.map(({ origin }) => origin),
    apart: openings.windows.filter(({ isApart }) => isApart).map(({ origin }) => origin),
    coverage: [],
    openings,
    parts: [
      { part: "QB-31", title: "Title of QB-31", ...seriesOf(true) },
      { part: "QG-60", title: null, ...seriesOf(false) },
    ],
    ...more,
  };
}

/** An answer in which every text that an export or a workspace gives is `text`. */
export function hostileSparesOf(text: string): SparesAnswer {
  const plain = sparesAnswerOf();
  const backtest = backtestOf({ answer: text, warnings: [text] });
  return {
    ...plain,
    answer: text,
    warnings: [text],
    rows: text,
    parts: plain.parts.map((part, at) => ({
      ...part,
      ...{ part: `${text}${at}`, title: text, reasons: [text] },
      cost: part.cost === null ? null : { ...part.cost, currency: text },
    })),
    laws: plain.laws.map((law) => ({ ...law, fleet: text, slot: text })),
    backtest: {
      ...backtest,
      parts: backtest.parts.map((part, at) => ({ ...part, part: `${text}${at}`, title: text })),
    },
    replace: {
      costs: { ...plain.replace!.costs, currency: text, source: text },
      rows: plain.replace!.rows.map((row) => ({ ...row, fleet: text, slot: text })),
    },
  };
}
