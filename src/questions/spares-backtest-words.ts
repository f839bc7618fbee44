import type { BacktestRival, BacktestSeries, SparesBacktest } from "./spares-backtest-answer.ts";
import { allOf, count, inWords, wholePercent } from "./wording.ts";

/** Forecasts further off than this share of what was used are said to be so. */
const OFF = 0.1;
/** Parts named in a sentence. */
const NAMED = 3;
/** Years that stand apart, under which coverage says little. */
const FEW_WINDOWS = 5;

/** The finding in a sentence that can be repeated in a meeting. */
export function backtestSentence(backtest: SparesBacktest, asOf: string): string {
  const { openings, origins, apart, parts } = backtest;
  if (openings === null) return `No past forecast can be held against what was used: ${whyNone(backtest, asOf)}.`;
  const { lives, windows } = openings;
  const came = openings.used / windows.length;
  const inside = backtest.coverage
    .map(({ level, plain }) => `the ${wholePercent(level)} range held ${wholePercent(plain)}`)
    .join(" and ");
  return [
    `In ${count(origins.length, "past forecast")} of a year, from ${origins[0]} to ${origins.at(-1)}, ${inWords(lives.forecast)} frames opened a year were forecast and ${inWords(came)} came`,
    `of the use of parts in ${count(apart.length, "separate year")} ${inside}`,
    `${rivalsInWords(parts)}.`,
  ].join("; ");
}

function whyNone({ recordsFrom, months }: SparesBacktest, asOf: string): string {
  if (recordsFrom === null) return "no card with a date is on record";
  return `records from ${recordsFrom} to ${asOf} are too short, two years come before the first forecast and ${months} months after the last`;
}

/** Whether a plain rival did better, and for which parts. */
function rivalsInWords(parts: SparesBacktest["parts"]): string {
  const beaten = parts.filter(({ rivals }) => rivals.some(({ better }) => better));
  if (beaten.length === 0) return "no plain forecast from past use did better for any part";
  const named = beaten.slice(0, NAMED).map(({ part, rivals }) => `${best(rivals).name} for ${part}`);
  const more = beaten.length - named.length;
  return `${more > 0 ? `${named.join(", ")} and ${more} more` : allOf(named)} did better than this forecast`;
}

function best(rivals: BacktestRival[]): BacktestRival {
  return rivals.toSorted((one, other) => one.loss - other.loss)[0]!;
}

/** What to be careful of in the forecasts that the backtest is of. */
export function backtestWarnings({ parts, apart, openings }: SparesBacktest): string[] {
  if (openings === null) return [];
  return [
    ...(apart.length < FEW_WINDOWS
      ? [
          `forecasts of only ${count(apart.length, "separate year")} can be held against what came: how often ranges hold is hardly known`,
        ]
      : []),
    ...parts.flatMap(({ part, lives, rivals }) => {
      const better = rivals.filter((rival) => rival.better).toSorted((one, other) => one.loss - other.loss);
      if (better.length === 0) return [];
      const named = better.map(({ name, loss }) => `${name} ${inWords(loss)}`);
      return [
        `of ${part} past use alone has told the next year better: a mean loss of ${inWords(lives.loss)} pieces by lives, by ${allOf(named)}`,
      ];
    }),
    ...parts.flatMap(({ part, lives: { ratio } }) =>
      ratio === null || Math.abs(ratio - 1) <= OFF
        ? []
        : [`past forecasts of ${part} were ${wholePercent(Math.abs(ratio - 1))} too ${ratio > 1 ? "high" : "low"}`],
    ),
    ...newUnits(openings),
  ];
}

function newUnits({ used, usedByNew }: BacktestSeries): string[] {
  const share = usedByNew / (used + usedByNew);
  return share > OFF
    ? [`${wholePercent(share)} of the frames opened were not known when the forecast was made: they are counted apart`]
    : [];
}
