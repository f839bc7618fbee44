import { describe, expect, it } from "vitest";
import { offenderVerdicts } from "../../../src/stats/offenders/offender-verdicts.ts";
import { twoGroupRatios } from "../../../src/stats/offenders/two-group-ratios.ts";
import { type FoundTwoGroups, fitTwoGroups } from "../../../src/stats/offenders/two-groups.ts";
import { expectAgreement } from "../../agree.ts";

// Made for this test: forty entities, of which those at 12, 24 and 30 have some four times what is expected
const counts = {
  events: Float64Array.of(
    ...[3, 2, 1, 4, 2, 0, 3, 5, 2, 1, 3, 2, 14, 4, 1, 2, 3, 0, 6, 2],
    ...[1, 3, 2, 4, 15, 1, 2, 5, 3, 2, 9, 1, 2, 3, 0, 4, 2, 3, 1, 2],
  ),
  exposure: Float64Array.of(
    ...[2.1, 3, 1.5, 4, 2.5, 1.2, 3.3, 3.8, 2.2, 1.9, 3.1, 2.4, 3, 3.6, 1.1, 2, 3.5, 0.9, 3.9, 2.6],
    ...[1.3, 3.2, 2.7, 3.4, 3.7, 1.4, 2.3, 4.1, 2.9, 1.7, 2, 1.6, 2.8, 3, 1, 3.3, 1.8, 2.4, 1.2, 2.5],
  ),
};

function fitted(ordinarySpread?: number, of = counts): FoundTwoGroups {
  const fit = fitTwoGroups(of, ordinarySpread === undefined ? {} : { ordinarySpread });
  if (!fit.found) throw new Error(fit.reason);
  return fit;
}

/** Every number of an answer. */
function numbersOf(answer: object): number[] {
  return Object.values(answer).flatMap((value) => {
    if (typeof value === "number") return [value];
    return typeof value === "object" && value !== null ? numbersOf(value) : [];
  });
}

describe("fitTwoGroups", () => {
  // scipy 1.17.1: minimize(method="Nelder-Mead") on the sum of logs of (1 - share) nbinom.pmf(n, a, a / (a + x)) + share nbinom.pmf(n, 6,
  // (6 / c) / (6 / c + x)) gamma.sf(2, 6 + n, scale=1 / (6 / c + x)) / gamma.sf(2, 6, scale=c / 6), x = mean * expected, a = 1 / spread^2
  it.each([
    {
      given: undefined,
      mean: 0.95949551,
      spread: 0.03,
      share: 0.082509199,
      uncut: 4.0106742,
      offender: 4.2294187,
      logLikelihood: -70.49164145,
      one: -78.21304189,
    },
    {
      given: 0.2,
      mean: 0.9565964,
      spread: 0.2,
      share: 0.082272454,
      uncut: 4.0127244,
      offender: 4.2312081,
      logLikelihood: -71.7505029,
      one: -80.19638845,
    },
  ])("finds the greatest likelihood that scipy finds, spread given: $given", (known) => {
    const fit = fitted(known.given);
    expectAgreement(fit.logLikelihood, known.logLikelihood, { abs: 2e-5 });
    expectAgreement(fit.ordinary.mean, known.mean, { rel: 1e-3 });
    expectAgreement(fit.ordinary.spread, known.spread, { abs: 1e-3 });
    expectAgreement(fit.offenders.share, known.share, { rel: 3e-3 });
    expectAgreement(fit.offenders.uncutMean, known.uncut, { rel: 3e-3 });
    expectAgreement(fit.offenderMean, known.offender, { rel: 3e-3 });
    expectAgreement(fit.oneGamma.logLikelihood, known.one, { abs: 1e-6 });
    expectAgreement(fit.gain, 2 * (known.logLikelihood - known.one), { abs: 1e-4 });
    expect([fit.spreadGiven, fit.entities]).toEqual([known.given !== undefined, 40]);
  });

  it("follows the unit of what is expected, and the order of entities", () => {
    const [fit, turned] = [fitted(0.2), { events: counts.events.toReversed(), exposure: counts.exposure.toReversed() }];
    expectAgreement(fitted(0.2, turned).gain, fit.gain, { abs: 1e-6 });
    for (const unit of [1e-9, 1e9]) {
      const scaled = fitted(0.2, { events: counts.events, exposure: counts.exposure.map((x) => x * unit) });
      expectAgreement(scaled.ordinary.mean * unit, fit.ordinary.mean, { rel: 1e-4 });
      expectAgreement(scaled.gain, fit.gain, { abs: 1e-4 });
    }
  });

  it("comes to nearly the same with entities taken together as with each by itself", () => {
    // 3,200 entities are taken together where they are nearly alike; 1,600 are not
    const many = (times: number) => ({
      events: Float64Array.from({ length: 40 * times }, (_, at) => counts.events[at % 40]!),
      exposure: Float64Array.from(
        { length: 40 * times },
        (_, at) => counts.exposure[at % 40]! * (1 + ((at * 7919) % 97) / 4000),
      ),
    });
    const [few, lots] = [fitted(undefined, many(40)), fitted(undefined, many(80))];
    expectAgreement(lots.gain / 2, few.gain, { rel: 1e-3 });
    expectAgreement(lots.ordinary.mean, few.ordinary.mean, { rel: 1e-3 });
    expectAgreement(lots.offenders.share, few.offenders.share, { rel: 1e-2 });
  });

  it.each([
    { name: "nothing", events: [], exposure: [], reason: "no events were expected of anything" },
    {
      name: "no exposure, whatever the events",
      events: [3, 0],
      exposure: [0, 0],
      reason: "no events were expected of anything",
    },
    { name: "no events", events: [0, 0], exposure: [2, 3], reason: "there are no events" },
    { name: "one entity", events: [9], exposure: [2], reason: "there is nothing to compare one entity with" },
  ])("says why there are no groups in $name", ({ events, exposure, reason }) => {
    const columns = { events: Float64Array.from(events), exposure: Float64Array.from(exposure) };
    expect(fitTwoGroups(columns)).toEqual({ found: false, reason });
  });

  it.each([
    { name: "all alike", events: [3, 3, 3, 3], exposure: [3, 3, 3, 3] },
    { name: "two entities", events: [0, 40], exposure: [5, 5] },
    { name: "events where nothing was expected", events: [3, 7, 2], exposure: [3, 0, 2] },
    { name: "huge counts", events: [1e9, 1e9, 4e9, 1e9], exposure: [1e9, 1e9, 1e9, 1e9] },
    { name: "one with everything", events: [1e5, 0, 0, 0], exposure: [1, 1, 1, 1] },
    { name: "a billionth expected", events: [1, 0, 2, 0], exposure: [1e-9, 1e-9, 1e9, 1] },
  ])("comes to an end, with numbers all through, on $name", ({ events, exposure }) => {
    const columns = { events: Float64Array.from(events), exposure: Float64Array.from(exposure) };
    const fit = fitted(undefined, columns);
    const ratios = twoGroupRatios(columns, fit, { level: 0.95 });
    const { verdict } = offenderVerdicts(fit, ratios.probabilityOrdinary);
    expect(verdict).toHaveLength(events.length);
    for (const column of Object.values(ratios)) expect(column.every((value) => Number.isFinite(value))).toBe(true);
    expect(numbersOf(fit).every(Number.isFinite)).toBe(true);
    for (const [entity, low] of ratios.low.entries()) expect(low).toBeLessThanOrEqual(ratios.high[entity]!);
  });

  it("refuses a spread below 0", () => {
    expect(() => fitTwoGroups(counts, { ordinarySpread: -0.1 })).toThrow("found -0.1");
  });
});

describe("twoGroupRatios", () => {
  // scipy 1.17.1 at the maximum above with spread 0.2: chances as there; mean by quad; 5 and 95 % by brentq on the mixed distribution function
  it.each([
    { entity: 0, ordinary: 0.97465056, ratio: 1.08461548, low: 0.738763729, high: 1.45325413 },
    { entity: 12, ordinary: 0.00185791491, ratio: 4.57796512, low: 3.0284638, high: 6.38625421 },
    { entity: 24, ordinary: 0.00438942055, ratio: 4.16292495, low: 2.77756887, high: 5.77093676 },
    { entity: 30, ordinary: 0.0355303652, ratio: 4.30075825, low: 2.38368985, high: 6.39885022 },
    { entity: 5, ordinary: 0.994461348, ratio: 0.966784423, low: 0.665164774, high: 1.30337335 },
  ])("gives the probability, ratio and limits of entity $entity that scipy gives", (known) => {
    const ratios = twoGroupRatios(counts, fitted(0.2), { level: 0.9 });
    expectAgreement(ratios.probabilityOrdinary[known.entity], known.ordinary, { rel: 5e-3 });
    expectAgreement(ratios.ratio[known.entity], known.ratio, { rel: 1e-3 });
    expectAgreement(ratios.low[known.entity], known.low, { rel: 1e-3 });
    expectAgreement(ratios.high[known.entity], known.high, { rel: 1e-3 });
  });

  it("gives an entity of which nothing was expected what is known of any other, whatever its events", () => {
    const fit = fitted(0.2);
    const none = { events: Float64Array.of(0, 9), exposure: Float64Array.of(0, 0) };
    const { probabilityOrdinary, ratio } = twoGroupRatios(none, fit, { level: 0.9 });
    expect(probabilityOrdinary[1]).toBe(probabilityOrdinary[0]);
    expectAgreement(probabilityOrdinary[0], 1 - fit.offenders.share, { abs: 1e-12 });
    // the mean of either group, by its share: 1 for the ordinary ones
    expectAgreement(ratio[0], 1 - fit.offenders.share + fit.offenders.share * fit.offenderMean, { rel: 1e-9 });
  });

  it("never takes an entity with few events for an offender", () => {
    const few = { events: Float64Array.of(0, 30), exposure: Float64Array.of(100, 100) };
    expect(twoGroupRatios(few, fitted(0.2), { level: 0.9 }).probabilityOrdinary.every((p) => p > 0.999)).toBe(true);
  });
});

describe("offenderVerdicts", () => {
  const of = (gain: number, ...p: number[]) => offenderVerdicts({ gain }, Float64Array.from(p));

  it("lists the most certain as long as their mean probability of being ordinary is at most 0.08", () => {
    // by hand: 0.02, 0.06, 0.15 have mean 0.0767; with 0.2 it is 0.1075
    const { verdict, named, falseNamesExpected, clear } = of(6, 0.9, 0.06, 0.2, 0.02, 0.35, 0.36, 0.15);
    expect(verdict).toEqual(["within chance", "offender", "watch", "offender", "watch", "within chance", "offender"]);
    expectAgreement(falseNamesExpected, 0.23, { abs: 1e-12 });
    expect([named, clear]).toEqual([3, true]);
  });

  it("names none where two groups do not fit clearly better, but watches", () => {
    expect(of(5.99, 0.01, 0.9)).toEqual({
      verdict: ["watch", "within chance"],
      named: 0,
      falseNamesExpected: 0,
      clear: false,
    });
  });

  it("treats equals alike, has nothing to say of none, and refuses what is no probability", () => {
    // by hand: one of the two at 0.1 would do with the one at 0.05 (mean 0.075), both would not (0.0833)
    expect(of(9, 0.1, 0.05, 0.1).verdict).toEqual(["watch", "offender", "watch"]);
    expect(of(9)).toMatchObject({ verdict: [], named: 0 });
    expect(() => of(9, Number.NaN)).toThrow(RangeError);
  });
});
