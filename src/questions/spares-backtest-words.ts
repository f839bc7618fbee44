import type { BacktestSeries, SparesBacktest } from "./spares-backtest-answer.ts";
export function backtestSentence(backtest: SparesBacktest, asOf: string): string { return `${backtest.origins.length} ${asOf}`; }
export function backtestWarnings(backtest: SparesBacktest): string[] { return [`${backtest.origins.length}`]; }
