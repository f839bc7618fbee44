import { describe, expect, it } from "vitest";
import { type CorrectedPowerLaw, correctedPowerLaw } from "../../../src/stats/recurrence/corrected-power-law.ts";
import type { RecurrentEvents } from "../../../src/stats/recurrence/recurrent-events.ts";
import { expectAgreement } from "../../agree.ts";
import { crowSystems, eventsOf, inUnits, repairs, tenRepairs } from "./recurrent-cases.ts";

function corrected(events: RecurrentEvents, level: number): CorrectedPowerLaw {
  const found = correctedPowerLaw(events, level);
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

describe("correctedPowerLaw agrees with the published case on ten repairs of one system", () => {
  const at80 = corrected(tenRepairs(), 0.8);
  const at90 = corrected(tenRepairs(), 0.9);

  it.each([
    ["modified.b", at80.beta],
    ["modified.growth_slope", 1 - at80.beta],
    ["modified.a", at80.lambda],
    ["modified.mtbf_at_end", at80.meanTimeAtEnd.estimate],
    ["modified.mtbf_ci80_lo", at80.meanTimeAtEnd.low],
    ["modified.mtbf_ci80_hi", at80.meanTimeAtEnd.high],
    ["nhpp.beta", at80.betaLimits.estimate],
    ["beta_ci90_chisq_lo", at90.betaLimits.low],
    ["beta_ci90_chisq_hi", at90.betaLimits.high],
  ])("in %s", (name, found) => {
    const { value, tolerance } = repairs.value(name);
    expectAgreement(found, value, tolerance, name);
  });

  it("W-PL1: with the figures that the e-Handbook prints", () => {
    expectAgreement(at80.beta, 0.4835, { abs: 1e-4 });
    expectAgreement(at80.meanTimeAtEnd.estimate, 310.23, { abs: 0.01 });
    expectAgreement(at80.meanTimeAtEnd.low, 157.71, { abs: 0.01 });
    expectAgreement(at80.meanTimeAtEnd.high, 548.56, { abs: 0.01 });
    expectAgreement(at80.betaLimits.estimate, 0.5372, { abs: 1e-4 });
  });
});

describe("correctedPowerLaw", () => {
  it("takes two events off where the last ended observation", () => {
    const found = corrected(tenRepairs(1478), 0.9);
    // R 4.2.2: S <- sum(log(1478 / x)); 8 / S; qchisq(c(0.05, 0.95), 18) / (2 * S)
    expectAgreement(found.beta, 0.4332218824607, { rel: 1e-10 });
    expectAgreement(found.betaLimits.low, 0.2542594142012, { rel: 1e-10 });
    expectAgreement(found.betaLimits.high, 0.7816757652848, { rel: 1e-10 });
    expect(found.ended).toBe("event");
    expect(found.meanTimeAtEnd).toMatchObject({
      low: null,
      high: null,
      reason: expect.stringContaining("between events"),
    });
  });

  it.each([
    { what: "no units", events: eventsOf(), reason: "this is for one unit, and there are 0" },
    { what: "three units", events: crowSystems(), reason: "this is for one unit, and there are 3" },
    {
      what: "late entry",
      events: eventsOf({ ages: [3, 4], entry: 1, end: 5 }),
      reason: "the unit was not watched from age 0",
    },
    { what: "no events", events: eventsOf({ ages: [], end: 5 }), reason: "there are too few events: 2 are needed" },
    { what: "one event", events: eventsOf({ ages: [3], end: 5 }), reason: "there are too few events: 2 are needed" },
    {
      what: "two, one at the end",
      events: eventsOf({ ages: [3, 5], end: 5 }),
      reason: "there are too few events: 3 are needed",
    },
    {
      what: "all at the end",
      events: eventsOf({ ages: [5, 5, 5], end: 5 }),
      reason: "all events lie at the end of observation",
    },
    {
      what: "an event at age 0",
      events: eventsOf({ ages: [0, 3], end: 5 }),
      reason: "an event lies at age 0, where the law gives no likelihood",
    },
    {
      what: "no observation",
      events: eventsOf({ ages: [0, 0, 0], end: 0 }),
      reason: "an event lies at age 0, where the law gives no likelihood",
    },
  ])("says why there is none: $what", ({ events, reason }) => {
    expect(correctedPowerLaw(events, 0.9)).toEqual({ reason });
  });

  it("has no upper limit of the mean time where its formula has none", () => {
    // By hand: with 2 events and z = 2.5758, 2 < sqrt(2 z^2 / 2) = 2.58
    expect(corrected(eventsOf({ ages: [3, 4], end: 5 }), 0.99).meanTimeAtEnd).toMatchObject({
      high: null,
      reason: "no upper limit: there are too few events for this level",
    });
  });

  it.each([1e9, 1e-9])("gives the same in units %d times as small", (factor) => {
    const found = corrected(inUnits(tenRepairs(), factor), 0.8);
    expectAgreement(found.beta, corrected(tenRepairs(), 0.8).beta, { rel: 1e-10 });
    expectAgreement(found.meanTimeAtEnd.high, corrected(tenRepairs(), 0.8).meanTimeAtEnd.high! * factor, {
      rel: 1e-10,
    });
  });

  it("refuses a level out of range", () => {
    expect(() => correctedPowerLaw(tenRepairs(), 1.2)).toThrow(RangeError);
  });
});
