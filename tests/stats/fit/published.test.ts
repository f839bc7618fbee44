import { describe, expect, it } from "vitest";
import type { FamilyName } from "../../../src/stats/distribution/family.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { figureOf } from "./fit-figures.ts";
import { fitted } from "./fitted.ts";

const bearings = new PublishedCase("01_ball_bearings");
const handbook = new PublishedCase("02_nist_censored");
const fans = new PublishedCase("03_genfan");
const capacitors = new PublishedCase("06_capacitor");
const lung = new PublishedCase("07_lung");
const heart = new PublishedCase("08_heart");
const delayed = new PublishedCase("08b_delayed_entry");
const visits = new PublishedCase("09a_cosmesis");
const tubes = new PublishedCase("09b_heat_exchanger");
const mgus = new PublishedCase("10_mgus2");

function heartLives(onlyTransplanted: boolean): Required<Omit<Lives, "count">> {
  const rows = Array.from(heart.flags("transplant").keys()).filter(
    (row) => !onlyTransplanted || heart.flags("transplant")[row] === 1,
  );
  const pick = (column: string) => Float64Array.from(rows, (row) => heart.numbers(column)[row]!);
  return { time: pick("stop"), failed: Uint8Array.from(pick("event")), entry: pick("start") };
}

function visitLives(...groups: string[]): IntervalLives {
  const rows = visits.texts("group").flatMap((name, row) => (groups.includes(name) ? [row] : []));
  const pick = (column: string) =>
    Float64Array.from(rows, (row) => visits.numbers(column, Number.POSITIVE_INFINITY)[row]!);
  return { low: pick("left"), high: pick("right") };
}

/** Lives that ended by the cause; those of length 0 are left out, as in the source's fits. */
function causeLives(cause: number): Lives {
  const rows = Array.from(mgus.numbers("etime").keys()).filter((row) => mgus.numbers("etime")[row]! > 0);
  return {
    time: Float64Array.from(rows, (row) => mgus.numbers("etime")[row]!),
    failed: Uint8Array.from(rows, (row) => (mgus.numbers("event")[row] === cause ? 1 : 0)),
  };
}

const bearingLives: Lives = { time: bearings.numbers("revolutions_million"), failed: bearings.flags("failed") };
const handbookLives: Lives = { time: handbook.numbers("hours"), failed: handbook.flags("failed") };
const fanLives: Lives = { time: fans.numbers("hours"), failed: fans.flags("status") };
const capacitorLives: Lives = { time: capacitors.numbers("time"), failed: capacitors.flags("status") };
const delayedLives = {
  time: delayed.numbers("exit_hours"),
  failed: delayed.flags("failed"),
  entry: delayed.numbers("entry_hours"),
};
const tubeLives: IntervalLives = {
  low: tubes.numbers("left"),
  high: tubes.numbers("right", Number.POSITIVE_INFINITY),
  count: tubes.numbers("tubes"),
};
/** R leaves one row of the lung data out of its regression: the physician's score is missing there. */
const scored = Array.from(lung.texts("time").keys()).filter((row) => lung.texts("ph_ecog")[row] !== "");
const lungLives: Lives = {
  time: Float64Array.from(scored, (row) => lung.numbers("time")[row]!),
  failed: Uint8Array.from(scored, (row) => lung.flags("event")[row]!),
};

type Group = {
  source: string;
  of: PublishedCase;
  prefix: string;
  family: FamilyName;
  lives: Lives | IntervalLives;
  /** Figures of which the program has none. */
  without?: string[];
  /** Of a regression, the figures of its null model alone. */
  only?: string;
};

const LIEBLEIN = "Lieblein & Zelen 1956, 23 deep-groove ball bearings, all failed";
const NIST = "NIST/SEMATECH e-Handbook 8.4.1.3, 10 of 20 stopped at 500 h";
const NELSON = "Nelson 1982, 70 generator fans with 12 failures";
const CAPACITORS = "Zelen 1959, 64 capacitors, null model of a regression";
const VISITS = "Finkelstein & Wolfe 1985, interval-censored";
const TUBES = "Meeker & Escobar 1998, heat-exchanger tubes by interval, with counts";
const HEART = "Crowley & Hu 1977, heart transplants";
const aft = (source: string, of: PublishedCase, lives: Lives | IntervalLives, families: Record<string, FamilyName>) =>
  Object.entries(families).map(
    ([name, family]): Group => ({ source, of, prefix: `${name}_aft.`, family, lives, only: "loglik_null" }),
  );

const groups: Group[] = [
  ...(["weibull", "exponential", "lognormal", "loglogistic", "gamma"] as const).map(
    (name): Group => ({
      source: LIEBLEIN,
      of: bearings,
      prefix: `${name}.`,
      family: name === "loglogistic" ? "log-logistic" : name,
      lives: bearingLives,
      without: name === "weibull" ? ["sd_life", "bic", "aicc"] : [],
    }),
  ),
  ...[
    { source: NIST, of: handbook, lives: handbookLives },
    { source: NELSON, of: fans, lives: fanLives },
  ].flatMap(({ source, of, lives }): Group[] => [
    { source, of, prefix: "weibull.", family: "weibull", lives, without: ["sd_life"] },
    {
      source,
      of,
      prefix: "exponential.",
      family: "exponential",
      lives,
      // Exact limits of a constant rate are no matter of a fit; tests/stats/rate has them.
      without: of === fans ? ["mean_ci95_chisq_lo", "mean_ci95_chisq_hi"] : [],
    },
    { source, of, prefix: "lognormal.", family: "lognormal", lives },
    { source, of, prefix: "loglogistic.", family: "log-logistic", lives },
  ]),
  {
    source: NELSON,
    of: fans,
    prefix: "lr_exponential_vs_weibull_",
    family: "exponential",
    lives: fanLives,
    without: ["p"],
  },
  ...aft(CAPACITORS, capacitors, capacitorLives, {
    weibull: "weibull",
    lognormal: "lognormal",
    exponential: "exponential",
  }),
  ...aft("Loprinzi et al. 1994, null model of a regression", lung, lungLives, { weibull: "weibull" }),
  {
    source: `${HEART} in intervals (start, stop]`,
    of: heart,
    prefix: "weibull_all.",
    family: "weibull",
    lives: heartLives(false),
    without: ["sd_life"],
  },
  {
    source: `${HEART}, after transplant only: truly left-truncated`,
    of: heart,
    prefix: "weibull_truncated.",
    family: "weibull",
    lives: heartLives(true),
    without: ["sd_life"],
  },
  {
    source: `${HEART}, entry ignored: what a fit without it would give`,
    of: heart,
    prefix: "weibull_ignoring_truncation.",
    family: "weibull",
    lives: { time: heartLives(true).time, failed: heartLives(true).failed },
  },
  {
    source: "160 simulated lives with late entry",
    of: delayed,
    prefix: "weibull.",
    family: "weibull",
    lives: delayedLives,
    without: ["sd_life"],
  },
  {
    source: "160 simulated lives, entry ignored: what a fit without it would give",
    of: delayed,
    prefix: "weibull_ignoring_entry.",
    family: "weibull",
    lives: { time: delayedLives.time, failed: delayedLives.failed },
  },
  ...["radiotherapy", "radiotherapy_chemotherapy"].map(
    (group): Group => ({
      source: `${VISITS}, ${group}`,
      of: visits,
      prefix: `${group}.weibull.`,
      family: "weibull",
      lives: visitLives(group),
    }),
  ),
  ...aft(`${VISITS}, null model of a regression`, visits, visitLives("radiotherapy", "radiotherapy_chemotherapy"), {
    weibull: "weibull",
    lognormal: "lognormal",
    loglogistic: "log-logistic",
    exponential: "exponential",
  }),
  ...(["weibull", "lognormal", "exponential"] as const).map(
    (family): Group => ({ source: TUBES, of: tubes, prefix: `${family}.`, family, lives: tubeLives }),
  ),
  ...["pcm", "death"].map(
    (name, at): Group => ({
      source: "Kyle et al. 2002, by cause, the other one a removal",
      of: mgus,
      prefix: `cause_weibull_${name}.`,
      family: "weibull",
      lives: causeLives(at + 1),
      without: ["sd_life"],
    }),
  ),
];

// Expected figures by R: survreg, or as each file says (tests/reference/published/README.md).
describe.each(groups)("$family, $prefix, $source", ({ of, prefix, family, lives, without = [], only }) => {
  const found = fitted(lives, family);
  const figures = of
    .values(prefix)
    .filter(({ rest }) => only === undefined || rest === only)
    .map((value) => ({ ...value, found: figureOf(found, value.rest) }));

  it("agrees in every figure that the program has", () => {
    const compared = figures.filter((figure) => figure.found !== undefined);
    expect(compared.length).toBeGreaterThan(0);
    for (const { name, value, tolerance, found: ours } of compared) {
      expectAgreement(ours, Number(value), tolerance, name);
    }
    expect(figures.filter((figure) => figure.found === undefined).map(({ rest }) => rest)).toEqual(without);
  });
});
