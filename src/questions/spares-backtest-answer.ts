import type { Estimate } from "./estimate.ts";

/** Forecasts from past use alone, beside which the one from lives is set. */
export type RivalName = "last year's use" | "mean rate" | "smoothed demand";

/** How often use fell inside a central interval. Windows of these origins do not overlap. */
export type BacktestCoverage = {
  /** What the interval says that it holds: 0.8 or 0.95. */
  level: number;
  /** Share of windows inside by randomised transforms, which is near `level` where a forecast is right; with Wilson's limits at 95 %. */
  randomised: Estimate;
  /** Share of windows inside as it is printed: whole pieces, so that it holds more than it says. */
  plain: Estimate;
};

/** How one way of forecasting did. */
export type BacktestScore = {
  /** Pieces forecast a window, on average over all origins. */
  forecast: number;
  /** All that was forecast over all that was used; null where nothing was. */
  ratio: number | null;
  /** Mean pinball loss over origins and quantiles, in pieces: less is better. */
  loss: number;
  /** Null where no window stands apart. */
  coverage: BacktestCoverage[];
};

/** A plain rival, and whether its loss was less than that of the forecast from lives. */
export type BacktestRival = BacktestScore & { name: RivalName; better: boolean };

/** One forecast that was made, and what came. */
export type BacktestWindow = {
  /** Day up to which was known; the window is the 12 months after it, up to `to` and with that day. */
  origin: string;
  to: string;
  /** Whether its window overlaps no other that coverage is taken from. */
  isApart: boolean;
  /** Pieces that the frames known then took, and those that only came later. */
  used: number;
  usedByNew: number;
  /** The forecast with its 95 % interval, and its 80 % interval. */
  expected: Estimate;
  inner: { low: number; high: number };
  /** Randomised probability-integral transform: near 0 where far less was used than forecast, near 1 where far more was. */
  transform: number;
};

/** Forecasts of one part, or of the frames that are opened, against what came. */
export type BacktestSeries = {
  /** Pieces used in all windows of all origins together, and by frames that were not known at the origin. */
  used: number;
  usedByNew: number;
  lives: BacktestScore;
  rivals: BacktestRival[];
  windows: BacktestWindow[];
};

/** Past forecasts held against what was used. */
export type SparesBacktest = {
  /** The finding in a sentence. */
  answer: string;
  warnings: string[];
  /** From this day on records are taken to be whole, and forecasts are made from two years later on; null where nothing is on record. */
  recordsFrom: string | null;
  /** Months ahead of each forecast, and between origins. */
  months: number;
  step: number;
  quantiles: number[];
  draws: number;
  seed: number;
  /** Days at which a forecast was made, and those whose windows do not overlap. */
  origins: string[];
  apart: string[];
  /** All parts that are used at all together: each window of each part counts once. Windows of one year stand or fall together, so there are no limits. */
  coverage: { level: number; randomised: number; plain: number }[];
  /** Frames opened. Null where no forecast could be made. */
  openings: BacktestSeries | null;
  parts: (BacktestSeries & { part: string; title: string | null })[];
};
