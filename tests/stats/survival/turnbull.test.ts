import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { kaplanMeier } from "../../../src/stats/survival/kaplan-meier.ts";
import { type SurvivalDrop, turnbull } from "../../../src/stats/survival/turnbull.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { markedLives } from "./marked-lives.ts";

const visits = new PublishedCase("09a_cosmesis");
const tubes = new PublishedCase("09b_heat_exchanger");
const END = Number.POSITIVE_INFINITY;

function dropsOf(lives: Lives | IntervalLives, options = {}): SurvivalDrop[] {
  const found = turnbull(lives, options);
  if (!found.converged) throw new RangeError(found.reason);
  return found.drops;
}

/** The survival at an age that lies in no drop. */
function survivalAt(drops: SurvivalDrop[], age: number): number {
  return drops.findLast(({ high }) => high <= age)?.after ?? 1;
}

function visitLives(group: string): IntervalLives {
  const rows = visits.texts("group").flatMap((name, row) => (name === group ? [row] : []));
  const pick = (column: string) => Float64Array.from(rows, (row) => visits.numbers(column, END)[row]!);
  return { low: pick("left"), high: pick("right") };
}

describe("turnbull", () => {
  // R 4.2.2, survival 3.5-3: summary(survfit(Surv(left, right, type = "interval2") ~ 1), times = AGES)$surv; it stops when no survival
  // moves by more than 5e-5 in an iteration, so three digits
  it.each([
    [
      "radiotherapy",
      [
        5, 0.9536619913, 7, 0.9202687489, 8, 0.8316232119, 12, 0.7608773657, 25, 0.6682287272, 34, 0.5864170552, 40,
        0.4658578369, 48, 0,
      ],
    ],
    [
      "radiotherapy_chemotherapy",
      [
        5, 0.95671743157, 8, 0.91343486315, 12, 0.84422150501, 17, 0.69890550033, 19, 0.55765150328, 25, 0.34209671893,
        34, 0.27125199966, 50, 0.05520474384,
      ],
    ],
  ] as const)("agrees with survfit() of R's survival on the data of Finkelstein & Wolfe 1985: %s", (group, pairs) => {
    const drops = dropsOf(visitLives(group));
    for (let at = 0; at < pairs.length; at += 2) {
      expectAgreement(survivalAt(drops, pairs[at]!), pairs[at + 1]!, { abs: 5e-4 }, `at ${pairs[at]}`);
    }
  });

  it("gives found / inspected where all are inspected together: heat-exchanger tubes (Meeker & Escobar 1998, data from memory)", () => {
    const { rows, tolerance } = tubes.table("nonparametric");
    const lives = { low: tubes.numbers("left"), high: tubes.numbers("right", END), count: tubes.numbers("tubes") };
    const drops = dropsOf(lives);
    expect(drops.map(({ high }) => high)).toEqual(rows.map((row) => row["time"]));
    for (const [at, row] of rows.entries()) expectAgreement(1 - drops[at]!.after, row["F"]!, tolerance);
  });

  it("W-WB6: 432 turbine wheels inspected once (R survival, turbine); by hand, the fractions failed with neighbours pooled until they rise", () => {
    const rows = "4/39/0 10/53/4 14/33/2 18/73/7 22/30/5 26/39/9 30/42/9 34/13/6 38/34/22 42/40/21 46/36/21"
      .split(" ")
      .map((row) => row.split("/").map(Number) as [number, number, number]);
    const drops = dropsOf({
      low: Float64Array.from(rows.flatMap(([age]) => [0, age])),
      high: Float64Array.from(rows.flatMap(([age]) => [age, END])),
      count: Float64Array.from(rows.flatMap(([, inspected, failed]) => [failed, inspected - failed])),
    });
    const pooled = [0, 6 / 86, 6 / 86, 7 / 73, 5 / 30, 18 / 81, 18 / 81, 6 / 13, 43 / 74, 43 / 74, 21 / 36];
    for (const [at, [age]] of rows.entries()) expectAgreement(1 - survivalAt(drops, age), pooled[at]!, { abs: 1e-9 });
    expect(drops.map(({ low, high }) => [low, high])).toEqual([
      [4, 10],
      [14, 18],
      [18, 22],
      [22, 26],
      [30, 34],
      [34, 38],
      [42, 46],
    ]);
  });

  it("W-WB7: 167 parts inspected for cracks (R survival, cracks); by hand, 5, 21, 33, 51, 69, 71, 77, 94 of 167", () => {
    const days = [0, 186, 606, 902, 1077, 1209, 1377, 1592, 1932];
    const found = [5, 16, 12, 18, 18, 2, 6, 17, 73];
    const drops = dropsOf({
      low: Float64Array.from(days),
      high: Float64Array.of(...days.slice(1), END),
      count: Float64Array.from(found),
    });
    expect(drops.map(({ low }) => low)).toEqual(days.slice(0, -1));
    for (const [at, sum] of [5, 21, 33, 51, 69, 71, 77, 94].entries()) {
      expectAgreement(1 - drops[at]!.after, sum / 167, { rel: 1e-12 });
    }
  });
});

const life = fc.record({
  entry: fc.constantFrom(0, 0, 0, 1, 3),
  low: fc.integer({ min: 0, max: 9 }),
  width: fc.constantFrom(0, 1, 2, 4, 8, END),
  count: fc.integer({ min: 0, max: 3 }),
});

function livesFrom(rows: { entry: number; low: number; width: number; count: number }[]): Required<IntervalLives> {
  return {
    entry: Float64Array.from(rows, ({ entry }) => entry),
    low: Float64Array.from(rows, ({ entry, low }) => (entry > 0 ? entry + 1 : 0) + low),
    high: Float64Array.from(rows, ({ entry, low, width }) => (entry > 0 ? entry + 1 : 0) + low + width),
    count: Float64Array.from(rows, ({ count }) => count),
  };
}

/** Where the mass of a drop may be put, so that it counts for the lives that it should. */
function placeOf({ low, high }: { low: number; high: number }): number {
  return low === high ? low : Math.min(high, low + 0.5);
}

/**
 * Slopes of the log-likelihood by mass put at a place, straight from the lives: the sum over lives of 1 / (probability of what it did)
 * where the place is part of that, less 1 / (probability of being seen) where it lies after the entry.
 */
function slopesOf(lives: Required<IntervalLives>, drops: SurvivalDrop[], places: number[]): number[] {
  const masses = [...drops.map((drop) => ({ place: placeOf(drop), mass: drop.mass }))];
  masses.push({ place: 1000, mass: drops.at(-1)?.after ?? 1 });
  const slopes = places.map(() => 0);
  for (let one = 0; one < lives.low.length; one++) {
    const [low, high, entry] = [lives.low[one]!, lives.high[one]!, lives.entry[one]!];
    const within = (x: number) =>
      low === high ? x === low : (x > low || (low === 0 && high < END && x === 0)) && x <= high;
    const seen = (x: number) => entry === 0 || x > entry;
    const chance = (of: (x: number) => boolean) =>
      masses.reduce((sum, { place, mass }) => sum + (of(place) ? mass : 0), 0);
    for (const [at, place] of places.entries()) {
      if (within(place)) slopes[at]! += lives.count[one]! / chance(within);
      if (seen(place)) slopes[at]! -= lives.count[one]! / chance(seen);
    }
  }
  return slopes;
}

describe("turnbull, random lives", () => {
  it("is Kaplan-Meier exactly on exact and right-censored lives, late entry included", () => {
    const right = fc.array(
      life.map((row) => ({ ...row, width: row.width > 2 ? END : 0 })),
      { maxLength: 30 },
    );
    fc.assert(
      fc.property(right, (rows) => {
        const { low, high, entry, count } = livesFrom(rows);
        const lives = { time: low, failed: Uint8Array.from(high, (end) => (end < END ? 1 : 0)), entry, count };
        for (const minimumAtRisk of [1, 4]) {
          const steps = kaplanMeier(lives, { level: 0.95, limits: "plain", minimumAtRisk });
          const expected = steps.filter(({ failed }, at) => failed > 0 && (steps[at - 1]?.survival ?? 1) > 0);
          const drops = dropsOf({ low, high, entry, count }, { minimumAtRisk }).filter(({ before }) => before > 0);
          expect(drops.map(({ low: age, after }) => [age, after])).toEqual(
            expected.map(({ time, survival }) => [time, survival]),
          );
        }
      }),
      { numRuns: 200, seed: 20261126 },
    );
  });

  it("meets the conditions of the greatest likelihood: no mass anywhere would raise it", () => {
    fc.assert(
      fc.property(fc.array(life, { minLength: 1, maxLength: 30 }), (rows) => {
        const lives = livesFrom(rows.filter(({ count }) => count > 0));
        const drops = dropsOf(lives);
        // Under late entry survival may come to 0 while others are still to enter: what follows is then not told.
        fc.pre((drops.find(({ after }) => after === 0)?.high ?? END) > 4);
        const total = lives.count.reduce((sum, count) => sum + count, 0);
        const places = [...Array.from({ length: 60 }, (_, half) => half / 2), 1000];
        expect(Math.max(...slopesOf(lives, drops, places))).toBeLessThanOrEqual(1e-5 * total);
        const used = slopesOf(lives, drops, drops.map(placeOf));
        expect(used.every((slope) => slope >= -1e-5 * total)).toBe(true);
      }),
      { numRuns: 200, seed: 20261126 },
    );
  });

  it("does not depend on the unit of the ages, nor on whether lives are repeated or counted", () => {
    fc.assert(
      fc.property(fc.array(life, { maxLength: 20 }), (rows) => {
        const { low, high, entry, count } = livesFrom(rows);
        const drops = dropsOf({ low, high, entry, count });
        const repeated = livesFrom(rows.flatMap((row) => Array(row.count).fill({ ...row, count: 1 })));
        expect(dropsOf(repeated)).toEqual(drops);
        const unit = 2 ** 30;
        const scaled = { low: low.map((age) => age * unit), high: high.map((age) => age * unit) };
        expect(dropsOf({ ...scaled, entry: entry.map((age) => age * unit), count }).map(({ after }) => after)).toEqual(
          drops.map(({ after }) => after),
        );
      }),
      { numRuns: 50, seed: 20261126 },
    );
  });
});

describe("turnbull, hostile lives", () => {
  it("drops nowhere where all are running, none are given, or none count", () => {
    expect(turnbull(markedLives("3+ 5+"))).toMatchObject({ converged: true, drops: [] });
    expect(turnbull({ low: new Float64Array(0), high: new Float64Array(0) })).toMatchObject({ drops: [] });
    expect(turnbull({ ...markedLives("3"), count: Float64Array.of(0) })).toMatchObject({ drops: [] });
  });

  it("knows only the interval of a single failure, and takes one at 0 for at risk there, one left at 0 for gone", () => {
    expect(dropsOf({ low: Float64Array.of(4), high: Float64Array.of(9) })).toEqual([
      { low: 4, high: 9, mass: 1, before: 1, after: 0 },
    ]);
    expect(dropsOf({ low: Float64Array.of(0, 0), high: Float64Array.of(0, 5) })).toEqual([
      { low: 0, high: 0, mass: 1, before: 1, after: 0 },
    ]);
    expect(dropsOf({ low: Float64Array.of(0, 0), high: Float64Array.of(5, END) })).toEqual([
      { low: 0, high: 5, mass: 1, before: 1, after: 0 },
    ]);
  });

  it("gives the log-likelihood (by hand: two of four in the one interval, 4 log 1/2)", () => {
    const found = turnbull({ low: Float64Array.of(0, 0, 5, 5), high: Float64Array.of(5, 5, END, END) });
    expectAgreement(found.converged ? found.logLikelihood : null, 4 * Math.log(0.5), { rel: 1e-12 });
  });

  it("settles with 99 % censored, with overlapping intervals in which most get no mass, 5,000 lives", () => {
    const size = 5000;
    const low = Float64Array.from({ length: size }, (_, at) => (at * 7919) % 10007);
    const high = low.map((age, at) => (at % 100 === 0 ? age + 500 + (at % 1300) : END));
    expect(turnbull({ low, high })).toMatchObject({ converged: true });
    const dense = low.map((age, at) => age + 200 + ((at * 31) % 900));
    expect(turnbull({ low, high: dense })).toMatchObject({ converged: true });
  });

  it("refuses an entry that is not before the end, or within the interval of the failure", () => {
    const entry = Float64Array.of(5);
    const of = (low: number, high: number) => () =>
      turnbull({ low: Float64Array.of(low), high: Float64Array.of(high), entry });
    expect(of(5, 5)).toThrow("enters at 5");
    expect(of(5, END)).toThrow(RangeError);
    expect(of(4, 8)).toThrow(RangeError);
    expect(of(5, 8)).not.toThrow();
    expect(() => turnbull({ low: Float64Array.of(3), high: Float64Array.of(2) })).toThrow(RangeError);
  });
});
