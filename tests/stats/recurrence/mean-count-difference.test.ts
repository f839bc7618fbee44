import { describe, expect, it } from "vitest";
import { meanCountDifference } from "../../../src/stats/recurrence/mean-count-difference.ts";
import { expectAgreement } from "../../agree.ts";
import { eventsOf, valveSeats } from "./recurrent-cases.ts";

const level = 0.95;

describe("meanCountDifference", () => {
  // The two engines with two replacements in a day are left out, for survfit counts one event an interval.
  const engines = (from: number, to: number) => valveSeats((id) => id >= from && id <= to && id !== 328 && id !== 402);
  const { steps, leftOut } = meanCountDifference(engines(251, 400), engines(401, 422), { level });

  // R 4.2.2, survival 3.5-3: survfit(Surv(t0, t1, status) ~ 1, id = id) of each group: cumhaz and std.chaz at the age, their
  // difference and sqrt(std.chaz1^2 + std.chaz2^2)
  it.each([
    { age: 300, first: 0.6111111111111, second: 0.2857142857143, estimate: 0.3253968253968, se: 0.2144174823258 },
    { age: 450, first: 0.8333333333333, second: 0.6261904761905, estimate: 0.2071428571429, se: 0.2954791779575 },
    { age: 600, first: 1.055555555556, second: 0.9531746031746, estimate: 0.102380952381, se: 0.3682020244738 },
  ])("agrees with R on valve seats of two groups of engines at $age days", ({ age, first, second, estimate, se }) => {
    const step = steps.filter(({ time }) => time <= age).at(-1);
    expectAgreement(step?.means[0], first, { rel: 1e-11 });
    expectAgreement(step?.means[1], second, { rel: 1e-11 });
    expectAgreement(step?.estimate, estimate, { abs: 1e-11 });
    expectAgreement(step?.se, se, { rel: 1e-11 });
    // qnorm(0.975) = 1.959963984540054
    expectAgreement(step?.low, estimate - 1.959963984540054 * se, { abs: 1e-11 });
    expectAgreement(step?.high, estimate + 1.959963984540054 * se, { abs: 1e-11 });
  });

  it("counts the units under observation of both groups, and events when only one was watched", () => {
    expect(steps[0]?.underObservation).toEqual([18, 21]);
    // By hand: the second group is watched to 613 days, and 392, 394, 396 and 389 had theirs at 621, 640, 635 and 646
    expect(leftOut).toBe(4);
  });

  it("changes its sign with the order of the groups, and nothing else", () => {
    const other = meanCountDifference(engines(401, 422), engines(251, 400), { level }).steps;
    expect(other.map(({ estimate }) => -estimate)).toEqual(steps.map(({ estimate }) => estimate));
    expect(other.map(({ se }) => se)).toEqual(steps.map(({ se }) => se));
  });

  it("compares only ages at which both groups are watched", () => {
    // By hand. Group one is watched over (0, 10] by two units, group two over (4, 20] by two: 2, 15 and 16 are not compared.
    const one = eventsOf({ ages: [2, 6], end: 10 }, { ages: [9], end: 10 });
    const two = eventsOf({ ages: [8, 15], entry: 4, end: 20 }, { ages: [16], entry: 4, end: 20 });
    const found = meanCountDifference(one, two, { level });
    expect(found.leftOut).toBe(3);
    expect(found.steps.map(({ time, means, estimate }) => ({ time, means, estimate }))).toEqual([
      { time: 6, means: [0.5, 0], estimate: 0.5 },
      { time: 8, means: [0.5, 0.5], estimate: 0 },
      { time: 9, means: [1, 0.5], estimate: 0.5 },
    ]);
  });

  it("gives no limits where a group's one unit can't show how units differ", () => {
    const one = eventsOf({ ages: [3], end: 10 });
    const two = eventsOf({ ages: [5], end: 10 }, { ages: [], end: 10 });
    // By hand: half an event a unit, robust variance (0.25^2 + 0.25^2) = 0.125
    expect(meanCountDifference(one, two, { level }).steps).toEqual([
      { time: 3, underObservation: [1, 2], means: [1, 0], estimate: 1, se: 0, low: null, high: null },
      {
        time: 5,
        underObservation: [1, 2],
        means: [1, 0.5],
        estimate: 0.5,
        se: Math.sqrt(0.125),
        low: null,
        high: null,
      },
    ]);
  });

  it("says why there is nothing to compare", () => {
    const reason = "there are no events at ages at which both groups were under observation";
    const quiet = eventsOf({ ages: [], end: 10 });
    expect(meanCountDifference(quiet, quiet, { level })).toEqual({ steps: [], leftOut: 0, reason });
    expect(meanCountDifference(eventsOf(), eventsOf(), { level })).toEqual({ steps: [], leftOut: 0, reason });
    const early = eventsOf({ ages: [3, 4], end: 5 });
    const late = eventsOf({ ages: [8], entry: 5, end: 9 });
    expect(meanCountDifference(early, late, { level })).toEqual({ steps: [], leftOut: 3, reason });
  });

  it("counts events at age 0 of units watched from there", () => {
    const one = eventsOf({ ages: [0], end: 5 }, { ages: [], end: 5 });
    const late = eventsOf({ ages: [2], entry: 1, end: 5 });
    expect(meanCountDifference(one, one, { level }).steps[0]?.underObservation).toEqual([2, 2]);
    expect(meanCountDifference(one, late, { level }).leftOut).toBe(1);
  });

  it("refuses a level out of range and events outside their observation", () => {
    const one = eventsOf({ ages: [3], end: 10 });
    expect(() => meanCountDifference(one, one, { level: 1 })).toThrow("level");
    expect(() => meanCountDifference(one, eventsOf({ ages: [11], end: 10 }), { level })).toThrow("the one at 11");
  });
});
