import { describe, expect, it } from "vitest";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { powerLawGoodness } from "../../../src/stats/recurrence/power-law-goodness.ts";
import type { RecurrentEvents } from "../../../src/stats/recurrence/recurrent-events.ts";
import { expectAgreement } from "../../agree.ts";
import { crowSystems, eventsOf, inUnits, repairs, tenRepairs } from "./recurrent-cases.ts";

const bootstrap = { draws: 999, seed: 1 };

describe("powerLawGoodness", () => {
  it("finds the published distance of ten repairs, and numpy's chance of one as large", () => {
    const found = powerLawGoodness(tenRepairs(), bootstrap);
    const { value, tolerance } = repairs.value("cramer_von_mises");
    expectAgreement(found.statistic, value, tolerance);
    expectAgreement(found.beta, repairs.value("modified.b").value, { rel: 1e-9 });
    // numpy 1.x, 200,000 sets: E = rng.exponential(size=(200000, 10)); b = 9 / E.sum(1); u = sort(exp(-E * b)); share >= value: 0.686
    expectAgreement(found.pValue, 0.686, { abs: 0.05 });
    expect(found).toMatchObject({ events: 10, units: 1, lateUnits: 0, draws: 999 });
  });

  // Critical values of MIL-HDBK-189 for M = 3, 10, 30 at 20, 10, 5 and 1 %, from memory; numpy as above, 200,000 sets:
  // 0.1204 0.1537 0.1826 0.2300, 0.1251 0.1676 0.2123 0.3244, 0.1284 0.1729 0.2193 0.3328
  it.each([
    { events: 3, critical: [0.121, 0.154, 0.184, 0.23] },
    { events: 10, critical: [0.125, 0.167, 0.212, 0.32] },
    { events: 30, critical: [0.128, 0.172, 0.218, 0.33] },
  ])("draws distances with the critical values published for $events events", ({ events, critical }) => {
    for (const [at, share] of [0.2, 0.1, 0.05, 0.01].entries()) {
      const found = powerLawGoodness(withDistance(events, critical[at]!), { draws: 9999, seed: 3 });
      expectAgreement(found.statistic, critical[at]!, { abs: 1e-9 });
      // Four binomial standard deviations of 9,999 draws, and the rounding of the table
      expectAgreement(found.pValue, share, { abs: 4 * Math.sqrt((share * (1 - share)) / 9999) + 0.08 * share });
    }
  });

  it("pools units by age over end, in order", () => {
    // R 4.2.2: x <- sort(c(s1, s2, s3)) / 200; b <- 35 / sum(log(1 / x)); 1 / (12 * 36) + sum((x^b - (2 * 1:36 - 1) / 72)^2)
    expectAgreement(powerLawGoodness(crowSystems(), bootstrap).statistic, 0.06953089057877, { rel: 1e-10 });
  });

  it("leaves out units that entered late, and the event that ended observation", () => {
    const [one] = [{ ages: [2, 5, 7, 9], end: 10 }];
    const alone = powerLawGoodness(eventsOf(one!), bootstrap);
    expect(powerLawGoodness(eventsOf(one!, { ages: [4, 5], entry: 3, end: 9 }), bootstrap)).toEqual({
      ...alone,
      lateUnits: 1,
    });
    expect(powerLawGoodness(eventsOf({ ages: [2, 5, 7, 9, 10], end: 10 }), bootstrap)).toEqual(alone);
  });

  it("has small chances for events that follow another law, and even ones for the law itself", () => {
    // Two bursts, early and late
    const bursts = eventsOf({ ages: [...many(30, (at) => 1 + at / 100), ...many(30, (at) => 90 + at / 10)], end: 100 });
    expect(powerLawGoodness(bursts, bootstrap).pValue).toBeLessThan(0.005);
    const chances = many(200, (set) => {
      const stream = streamOf(4, set);
      const ages = many(12, () => 100 * (1 - stream.uniform()) ** 0.5).sort((a, b) => a - b);
      return powerLawGoodness(eventsOf({ ages, end: 100 }), { draws: 199, seed: set }).pValue!;
    });
    // By hand: 200 even chances have 20 below 0.1, standard deviation 4.2, and a mean of 0.5 -+ 0.02
    expect(chances.filter((p) => p < 0.1).length).toBeGreaterThan(7);
    expect(chances.filter((p) => p < 0.1).length).toBeLessThan(34);
    expectAgreement(chances.reduce((sum, p) => sum + p, 0) / 200, 0.5, { abs: 0.08 });
  });

  it("gives the same for one seed, in any unit", () => {
    const found = powerLawGoodness(tenRepairs(), bootstrap);
    expect(powerLawGoodness(tenRepairs(), bootstrap)).toEqual(found);
    for (const factor of [1e9, 1e-9]) {
      const other = powerLawGoodness(inUnits(tenRepairs(), factor), bootstrap);
      expectAgreement(other.statistic, found.statistic!, { rel: 1e-9 });
      expect(other.pValue).toBe(found.pValue);
    }
  });

  it.each([
    { what: "no units", events: eventsOf(), reason: "0 events lie" },
    { what: "one event", events: eventsOf({ ages: [3], end: 5 }), reason: "1 event lies" },
    { what: "late units only", events: eventsOf({ ages: [3, 4, 5], entry: 1, end: 6 }), reason: "0 events lie" },
    { what: "an event at age 0", events: eventsOf({ ages: [0, 3, 4], end: 5 }), reason: "an event lies at age 0" },
    {
      what: "all at the ends",
      events: eventsOf({ ages: [5, 5, 5], end: 5 }, { ages: [6, 6], end: 6 }),
      reason: "all events lie at the end",
    },
  ])("says why there is no test: $what", ({ events, reason }) => {
    const found = powerLawGoodness(events, bootstrap);
    expect(found).toMatchObject({ statistic: null, pValue: null, beta: null, draws: 0 });
    expect(found.reason).toContain(reason);
  });

  it("refuses draws that are no whole number from 1", () => {
    expect(() => powerLawGoodness(tenRepairs(), { draws: 0, seed: 1 })).toThrow(RangeError);
  });

  it("tests 100,000 events by sets of 1,000", () => {
    const events = eventsOf({ ages: many(100_000, (at) => (at + 1) ** 0.8), end: 100_001 ** 0.8 });
    const before = performance.now();
    expect(powerLawGoodness(events, bootstrap).pValue).toBeGreaterThan(0.5);
    expect(performance.now() - before).toBeLessThan(5000);
  });
});

function many(number: number, of: (at: number) => number): number[] {
  return Array.from({ length: number }, (_, at) => of(at));
}

/** Events that lie at a given distance: depths log(T / t) go as a power of their rank, far from exponential ones as it grows. */
function withDistance(number: number, wanted: number): RecurrentEvents {
  const at = (power: number) => {
    const ages = many(number, (event) => Math.exp(-10 * ((number - event - 0.5) / number) ** power));
    return eventsOf({ ages, end: 1 });
  };
  let [low, high] = [2, 8];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (powerLawGoodness(at(middle), { draws: 1, seed: 1 }).statistic! < wanted) low = middle;
    else high = middle;
  }
  return at(low);
}
