import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Lives } from "../../../src/stats/lives.ts";
import { type LogRank, logRank } from "../../../src/stats/survival/log-rank.ts";
import { logRankTrend } from "../../../src/stats/survival/log-rank-trend.ts";
import type { Groups } from "../../../src/stats/survival/strata.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { markedLives } from "./marked-lives.ts";

const lung = new PublishedCase("07_lung");
const heart = new PublishedCase("08_heart");

type Compared = { lives: Lives; groups: Groups };

/** Lives of the lung data by a column of small numbers from `first`, those without one left out, in strata of another. */
function lungBy(column: string, first: number, groups: number, stratum?: string): Compared {
  const group = lung.numbers(column);
  const strata = stratum === undefined ? group : lung.numbers(stratum);
  const rows = Array.from(group.keys()).filter((row) => group[row]! < first + groups && !Number.isNaN(strata[row]!));
  const pick = (name: string) => rows.map((row) => lung.numbers(name)[row]!);
  return {
    lives: { time: Float64Array.from(pick("time")), failed: Uint8Array.from(pick("event")) },
    groups: {
      group: Int32Array.from(rows, (row) => group[row]! - first),
      groups,
      ...(stratum !== undefined && { stratum: Int32Array.from(rows, (row) => strata[row]!) }),
    },
  };
}

function compared(...texts: string[]): Compared {
  const parts = texts.map(markedLives);
  return {
    lives: {
      time: Float64Array.from(parts.flatMap(({ time }) => [...time])),
      failed: Uint8Array.from(parts.flatMap(({ failed }) => [...failed])),
    },
    groups: {
      group: Int32Array.from(parts.flatMap(({ time }, group) => Array<number>(time.length).fill(group))),
      groups: parts.length,
    },
  };
}

function test({ lives, groups }: Compared, rho = 0): LogRank {
  return logRank(lives, groups, { rho });
}

describe("logRank agrees with survdiff() of R's survival on the lung data of Loprinzi et al. 1994", () => {
  it.each([
    ["logrank_rho0", lungBy("sex", 1, 2), 0],
    ["logrank_rho1", lungBy("sex", 1, 2), 1],
    ["logrank_strat_ecog_rho0", lungBy("sex", 1, 2, "ph_ecog"), 0],
    ["logrank_strat_ecog_rho1", lungBy("sex", 1, 2, "ph_ecog"), 1],
  ] as const)("%s", (name, data, rho) => {
    const found = test(data, rho);
    const agree = (value: number | null | undefined, figure: string) => {
      const expected = lung.value(`${name}.${figure}`);
      expectAgreement(value, expected.value, expected.tolerance, figure);
    };
    agree(found.groups[0]?.observed, "obs_male");
    agree(found.groups[0]?.expected, "exp_male");
    agree(found.covariance[0]?.[0], "var");
    agree(found.statistic, "chisq");
    agree(found.p, "p");
    expect(found.degrees).toBe(1);
  });

  // R 4.2.2, survival 3.5-3: survdiff(Surv(time, status - 1) ~ ph.ecog, subset(lung, ph.ecog < 3)); then with rho = 1; with + strata(sex);
  // difference and trend by hand from its obs, exp and var: sum(0:2 * (obs - exp)), that^2 / (0:2 %*% var %*% 0:2)
  it.each([
    {
      data: lungBy("ph_ecog", 0, 3),
      rho: 0,
      expected: [53.90469627985005, 83.09294223487679, 26.00236148527317],
      statistic: 18.01209669469817,
      p: 0.0001226656315010635,
      difference: 34.90233479457687,
      trend: 16.44654322718895,
    },
    {
      data: lungBy("ph_ecog", 0, 3),
      rho: 1,
      expected: [31.07841516276491, 50.12859788946975, 16.76661754785618],
      statistic: 20.27254697819228,
      p: 3.961615813970223e-5,
      difference: 24.45064417103347,
      trend: 18.35963282342868,
    },
    {
      data: lungBy("ph_ecog", 0, 3, "sex"),
      rho: 0,
      expected: [
        39.23770294410833 + 14.892636201657556,
        53.19538173114697 + 30.081435228081325,
        17.56691532474467 + 8.025928570261122,
      ],
      statistic: 18.98821850618662,
      p: 7.529406433986006e-5,
      difference: 35.53749525076011,
      trend: 17.24889882893149,
    },
  ])("three groups, rho $rho: chi-square $statistic, trend $trend", ({ data, rho, expected, ...of }) => {
    const found = test(data, rho);
    for (const [group, value] of expected.entries()) {
      expectAgreement(found.groups[group]?.expected, value, { rel: 1e-9 });
    }
    expectAgreement(found.statistic, of.statistic, { rel: 1e-10 });
    expectAgreement(found.p, of.p, { rel: 1e-10 });
    expect(found.degrees).toBe(2);
    const trend = logRankTrend(found, Float64Array.of(0, 1, 2));
    expectAgreement(trend.difference, of.difference, { rel: 1e-10 });
    expectAgreement(trend.statistic, of.trend, { rel: 1e-10 });
  });

  it("late entry: the score test of coxph(Surv(start, stop, event) ~ transplant, heart, ties = 'exact') is 0.1750858396721766", () => {
    const lives = { time: heart.numbers("stop"), failed: heart.flags("event"), entry: heart.numbers("start") };
    const found = logRank(lives, { group: Int32Array.from(heart.flags("transplant")), groups: 2 });
    expectAgreement(found.statistic, 0.1750858396721766, { rel: 1e-10 });
    expect(found.groups[1]?.failures).toBe(45);
  });
});

describe("logRank agrees with published examples", () => {
  // Statistics as in SciPy's test_survival.py
  it.each([
    {
      id: "W-LR1",
      source: "Bland & Altman, BMJ 2004;328:1073",
      data: compared(
        "6 13 21 30 37 38 49 50 63 79 86 98 202 219 31+ 47+ 80+ 82+ 82+ 149+",
        "10 10 12 13 14 15 16 17 18 20 24 24 25 28 30 33 35 37 40 40 46 48 76 81 82 91 112 181 34+ 40+ 70+",
      ),
      statistic: 7.49659416854,
      p: 0.006181578637,
    },
    {
      id: "W-LR2a",
      source: "public-health teaching module",
      data: compared("8 12 26 14 21 27 8+ 32+ 20+ 40+", "33 28 41 48+ 48+ 25+ 37+ 48+ 25+ 43+"),
      statistic: 6.91598157449,
      p: 0.008542873404,
    },
    {
      id: "W-LR2b",
      source: "public-health teaching module",
      data: compared("19 6 5 4 20+ 19+ 17+ 14+", "16 21 7 21+ 15+ 18+ 18+ 5+"),
      statistic: 0.835004855038,
      p: 0.3608293039,
    },
  ])("$id ($source): chi-square $statistic, p $p", ({ data, statistic, p }) => {
    expectAgreement(test(data).statistic, statistic, { abs: 1e-9 });
    expectAgreement(test(data).p, p, { abs: 1e-9 });
  });

  it("W-LR1: observed 14 and 28, expected 22.48 and 19.52, as printed", () => {
    const { groups } = test(
      compared(
        "6 13 21 30 37 38 49 50 63 79 86 98 202 219 31+ 47+ 80+ 82+ 82+ 149+",
        "10 10 12 13 14 15 16 17 18 20 24 24 25 28 30 33 35 37 40 40 46 48 76 81 82 91 112 181 34+ 40+ 70+",
      ),
    );
    expect(groups.map(({ lives, observed }) => [lives, observed])).toEqual([
      [20, 14],
      [31, 28],
    ]);
    expectAgreement(groups[0]?.expected, 22.48, { abs: 0.005 });
    expectAgreement(groups[1]?.expected, 19.52, { abs: 0.005 });
  });

  it("W-LR3: remission data (Gehan 1965, MASS data gehan): chi-square 16.793, expected 19.25 and 10.75", () => {
    const { statistic, groups } = test(
      compared(
        "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+",
        "1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23",
      ),
    );
    expectAgreement(statistic, 16.793, { abs: 1e-3 });
    expectAgreement(groups[0]?.expected, 19.25, { abs: 5e-3 });
    expectAgreement(groups[1]?.expected, 10.75, { abs: 5e-3 });
  });
});

describe("logRank", () => {
  it("is the same whether lives are repeated or counted, in whole ages, in others, and in any order", () => {
    const life = fc.record({
      time: fc.integer({ min: 0, max: 12 }),
      failed: fc.integer({ min: 0, max: 1 }),
      entry: fc.integer({ min: 0, max: 8 }),
      group: fc.integer({ min: 0, max: 2 }),
      stratum: fc.integer({ min: 0, max: 1 }),
      count: fc.integer({ min: 0, max: 3 }),
    });
    type Row = { time: number; failed: number; entry: number; group: number; stratum: number; count: number };
    const of = (rows: Row[], unit: number) =>
      logRank(
        {
          time: Float64Array.from(rows, ({ time, entry }) => Math.max(time, entry + 1) * unit),
          failed: Uint8Array.from(rows, ({ failed }) => failed),
          entry: Float64Array.from(rows, ({ entry }) => entry * unit),
          count: Float64Array.from(rows, ({ count }) => count),
        },
        {
          group: Int32Array.from(rows, ({ group }) => group),
          groups: 3,
          stratum: Int32Array.from(rows, ({ stratum }) => stratum),
        },
        { rho: 1 },
      );
    fc.assert(
      fc.property(fc.array(life, { maxLength: 40 }), (rows) => {
        const counted = of(rows, 1);
        const repeated = rows.flatMap((row) => Array<Row>(row.count).fill({ ...row, count: 1 }));
        for (const other of [of(repeated, 1), of(rows, Math.PI), of(rows.toReversed(), 1e9), of(rows, 1e-6)]) {
          expect(other.degrees).toBe(counted.degrees);
          if (counted.statistic === null) expect(other.statistic).toBeNull();
          else expectAgreement(other.statistic, counted.statistic, { abs: 1e-9, rel: 1e-9 });
        }
      }),
      { numRuns: 200, seed: 20261126 },
    );
  });

  it("leaves a group that is never at risk with others out of the degrees, and no number is NaN", () => {
    const { statistic, degrees, groups } = test(compared("3 5 8 9+", "4 6 6 7", "1+ 1+"));
    const without = test(compared("3 5 8 9+", "4 6 6 7"));
    expect(degrees).toBe(1);
    expectAgreement(statistic, without.statistic!, { rel: 1e-12 });
    expect(groups[2]).toEqual({ lives: 2, failures: 0, observed: 0, expected: 0 });
  });

  it("adds sets of groups that are nowhere at risk together (one with late entry beyond the other's end)", () => {
    const early = compared("1 3 4+", "2 4 4");
    const late = compared("11 13 14+", "12 14 14");
    const lives: Lives = {
      time: Float64Array.of(...early.lives.time, ...late.lives.time),
      failed: Uint8Array.of(...early.lives.failed, ...late.lives.failed),
      entry: Float64Array.of(0, 0, 0, 0, 0, 0, 10, 10, 10, 10, 10, 10),
    };
    const found = logRank(lives, { group: Int32Array.of(0, 0, 0, 1, 1, 1, 2, 2, 2, 3, 3, 3), groups: 4 });
    expect(found.degrees).toBe(2);
    expectAgreement(found.statistic, 2 * test(early).statistic!, { rel: 1e-12 });
    expect(logRankTrend(found, Float64Array.of(1, 1, 5, 5))).toMatchObject({ statistic: null, p: null });
  });

  const none = "no two groups have lives at risk together at a failure that not all share";
  it.each([
    ["all running", compared("3+ 4+", "5+ 6+")],
    ["one group", compared("3 4")],
    ["no lives", { lives: markedLives("1"), groups: { group: Int32Array.of(0), groups: 3 } }],
    ["all failing at once", compared("3 3", "3")],
    ["zero times", compared("0 0", "0")],
  ])("%s: no statistic, and why", (_, data) => {
    expect(test(data)).toMatchObject({ statistic: null, p: null, degrees: 0, reason: none });
  });

  it("handles a single failure, n = 2: the first of two fails, by hand: U = 1/2, V = 1/4, chi-square 1", () => {
    expect(test(compared("1", "2+"))).toMatchObject({ statistic: 1, degrees: 1 });
  });

  it("refuses groups and strata that are no numbers of one, and a rho out of range", () => {
    const lives = markedLives("1 2");
    const group = Int32Array.of(0, 1);
    expect(() => logRank(lives, { group, groups: 1 })).toThrow("group of life 1 (counted from 0) is 1");
    expect(() => logRank(lives, { group: Int32Array.of(0), groups: 2 })).toThrow("group has 1 values, expected 2");
    expect(() => logRank(lives, { group, groups: 2, stratum: Int32Array.of(0, -1) })).toThrow("stratum of life 1");
    expect(() => logRank(lives, { group, groups: 2 }, { rho: -1 })).toThrow(RangeError);
    expect(() => logRank({ ...lives, entry: Float64Array.of(1, 0) }, { group, groups: 2 })).toThrow(
      "enters at 1 and ends at 1",
    );
  });
});

describe("logRankTrend", () => {
  it("does not depend on where the scores begin or their unit", () => {
    const found = test(lungBy("ph_ecog", 0, 3));
    const one = logRankTrend(found, Float64Array.of(0, 1, 2));
    const other = logRankTrend(found, Float64Array.of(1000, 1010, 1020));
    expectAgreement(other.statistic, one.statistic!, { rel: 1e-12 });
    expectAgreement(other.difference, 10 * one.difference!, { rel: 1e-12 });
  });

  it("needs a score per group, and scores that differ", () => {
    const found = test(compared("1 2", "3 4"));
    expect(() => logRankTrend(found, Float64Array.of(0))).toThrow("expected 2 finite scores");
    expect(() => logRankTrend(found, Float64Array.of(0, Number.NaN))).toThrow(RangeError);
    expect(logRankTrend(found, Float64Array.of(1, 1)).reason).toContain("no two groups of different score");
  });
});
