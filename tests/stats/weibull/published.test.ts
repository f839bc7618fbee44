import { describe, expect, it } from "vitest";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { converged, weibullFigure } from "./weibull-figures.ts";

const bearings = new PublishedCase("01_ball_bearings");
const handbook = new PublishedCase("02_nist_censored");
const fans = new PublishedCase("03_genfan");
const heart = new PublishedCase("08_heart");
const delayed = new PublishedCase("08b_delayed_entry");
const visits = new PublishedCase("09a_cosmesis");
const tubes = new PublishedCase("09b_heat_exchanger");

function heartLives(onlyTransplanted: boolean): Required<Omit<Lives, "count">> {
  const rows = Array.from(heart.flags("transplant").keys()).filter(
    (row) => !onlyTransplanted || heart.flags("transplant")[row] === 1,
  );
  const pick = (column: string) => Float64Array.from(rows, (row) => heart.numbers(column)[row]!);
  return { time: pick("stop"), failed: Uint8Array.from(pick("event")), entry: pick("start") };
}

function visitLives(group: string): IntervalLives {
  const rows = visits.texts("group").flatMap((name, row) => (name === group ? [row] : []));
  const pick = (column: string) =>
    Float64Array.from(rows, (row) => visits.numbers(column, Number.POSITIVE_INFINITY)[row]!);
  return { low: pick("left"), high: pick("right") };
}

const groups: { source: string; of: PublishedCase; prefix: string; lives: Lives | IntervalLives; without: string[] }[] =
  [
    {
      source: "Lieblein & Zelen 1956, 23 deep-groove ball bearings, all failed; figures by R (README)",
      of: bearings,
      prefix: "weibull.",
      lives: { time: bearings.numbers("revolutions_million"), failed: bearings.flags("failed") },
      without: ["sd_life", "bic", "aicc"],
    },
    {
      source: "NIST/SEMATECH e-Handbook 8.4.1.3, 10 of 20 stopped at 500 h",
      of: handbook,
      prefix: "weibull.",
      lives: { time: handbook.numbers("hours"), failed: handbook.flags("failed") },
      without: ["sd_life"],
    },
    {
      source: "Nelson 1982, 70 generator fans with 12 failures",
      of: fans,
      prefix: "weibull.",
      lives: { time: fans.numbers("hours"), failed: fans.flags("status") },
      without: ["sd_life"],
    },
    {
      source: "Crowley & Hu 1977, heart transplants in intervals (start, stop]",
      of: heart,
      prefix: "weibull_all.",
      lives: heartLives(false),
      without: ["sd_life"],
    },
    {
      source: "Crowley & Hu 1977, after transplant only: truly left-truncated",
      of: heart,
      prefix: "weibull_truncated.",
      lives: heartLives(true),
      without: ["sd_life"],
    },
    {
      source: "Crowley & Hu 1977, entry ignored: what a fit without it would give",
      of: heart,
      prefix: "weibull_ignoring_truncation.",
      lives: { time: heartLives(true).time, failed: heartLives(true).failed },
      without: [],
    },
    {
      source: "160 simulated lives with late entry",
      of: delayed,
      prefix: "weibull.",
      lives: {
        time: delayed.numbers("exit_hours"),
        failed: delayed.flags("failed"),
        entry: delayed.numbers("entry_hours"),
      },
      without: ["sd_life"],
    },
    {
      source: "Finkelstein & Wolfe 1985, radiotherapy, interval-censored; survreg(interval2)",
      of: visits,
      prefix: "radiotherapy.weibull.",
      lives: visitLives("radiotherapy"),
      without: [],
    },
    {
      source: "Finkelstein & Wolfe 1985, radiotherapy and chemotherapy, interval-censored; survreg(interval2)",
      of: visits,
      prefix: "radiotherapy_chemotherapy.weibull.",
      lives: visitLives("radiotherapy_chemotherapy"),
      without: [],
    },
    {
      source: "Meeker & Escobar 1998, heat-exchanger tubes by interval, with counts; survreg(interval2, weights)",
      of: tubes,
      prefix: "weibull.",
      lives: {
        low: tubes.numbers("left"),
        high: tubes.numbers("right", Number.POSITIVE_INFINITY),
        count: tubes.numbers("tubes"),
      },
      without: [],
    },
  ];

describe.each(groups)("Weibull fit and limits: $source", ({ of, prefix, lives, without }) => {
  const fit = converged(lives);
  const figures = of.values(prefix).map((value) => ({ ...value, found: weibullFigure(lives, fit, value.rest) }));
  const checked = figures.filter(({ found }) => found !== undefined);

  it.each(checked)("$name", ({ name, value, tolerance, found }) => {
    expectAgreement(found, Number(value), tolerance, name);
  });

  it("is compared in every figure that the program has", () => {
    expect(checked.length).toBeGreaterThan(1);
    expect(figures.filter(({ found }) => found === undefined).map(({ rest }) => rest)).toEqual(without);
  });
});
