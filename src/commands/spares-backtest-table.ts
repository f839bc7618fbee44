import type { BacktestScore, SparesBacktest } from "../questions/spares-backtest-answer.ts";
import { inWords, wholePercent } from "../questions/wording.ts";
import type { Cell } from "./csv-file.ts";
import type { AnswerTable } from "./print-answer.ts";

/** A backtest as a table before that of the forecast; in full for a CSV file: a row for each part and way of forecasting. */
export function backtestTable(backtest: SparesBacktest, { text, more = [], ...present }: AnswerTable): AnswerTable {
  const rest = [{ title: "The forecast from now on", table: text }, ...more];
  const csv = csvOf(backtest);
  const { openings, parts } = backtest;
  if (openings === null) return { ...present, text: { headers: [], right: [], rows: [] }, more: rest, csv };
  const rows = [{ part: "frames opened", ...openings }, ...parts];
  return {
    ...present,
    text: {
      headers: [
        ...["part", "used in a year", "forecast", "off by", "in 80 % range", "in 95 % range", "loss"],
        ...openings.rivals.map(({ name }) => name),
        "did better",
      ],
      right: [false, true, true, true, true, true, true, ...openings.rivals.map(() => true), false],
      rows: rows.map(({ part, used, lives, rivals, windows }) => [
        ...[part, inWords(used / windows.length), inWords(lives.forecast), offBy(lives), ...heldIn(lives)],
        ...[inWords(lives.loss), ...rivals.map(({ loss }) => inWords(loss))],
        rivals.flatMap(({ name, better }) => (better ? [name] : [])).join(", "),
      ]),
    },
    more: rest,
    csv,
  };
}

function offBy({ ratio }: BacktestScore): string {
  if (ratio === null) return "";
  const off = Math.round(100 * (ratio - 1));
  return off === 0 ? "0 %" : `${off > 0 ? "+" : "-"}${Math.abs(off)} %`;
}

function heldIn({ coverage }: BacktestScore): string[] {
  return coverage.map(({ plain }) => (plain.estimate === null ? "" : wholePercent(plain.estimate)));
}

function csvOf({ openings, parts }: SparesBacktest): AnswerTable["csv"] {
  const all = [...(openings === null ? [] : [{ part: "frames opened", title: null, ...openings }]), ...parts];
  return {
    headers: [
      ...[
        "part",
        "title",
        "forecast_by",
        "years",
        "used_a_year",
        "used_a_year_by_new_units",
        "forecast_a_year",
        "ratio",
      ],
      ...["loss", "better_than_lives", "in_80", "in_95", "in_80_randomised", "in_95_randomised"],
    ],
    rows: all.flatMap(({ part, title, used, usedByNew, lives, rivals, windows }) =>
      [{ name: "lives", better: null, ...lives }, ...rivals].map((score): Cell[] => [
        ...[part, title, score.name, windows.length, used / windows.length, usedByNew / windows.length],
        ...[score.forecast, score.ratio, score.loss, score.better === null ? null : String(score.better)],
        ...score.coverage.map(({ plain }) => plain.estimate),
        ...score.coverage.map(({ randomised }) => randomised.estimate),
      ]),
    ),
  };
}
