import { describe, expect, it } from "vitest";
import { type ConvergedPowerLaw, fitPowerLaw } from "../../../src/stats/recurrence/power-law.ts";
import { powerLawRate } from "../../../src/stats/recurrence/power-law-rate.ts";
import type { RecurrentEvents } from "../../../src/stats/recurrence/recurrent-events.ts";
import { expectAgreement } from "../../agree.ts";
import { crowSystems, eventsOf, inUnits, repairs, tenRepairs } from "./recurrent-cases.ts";

describe("powerLawRate", () => {
  it("finds the published intensity and mean time between events of ten repairs at 1,500 h", () => {
    const { intensity, meanTime } = powerLawRate(fitted(tenRepairs()), 1500, 0.95);
    for (const [name, found] of [
      ["mle.intensity_at_end", intensity.estimate],
      ["mle.mtbf_at_end", meanTime.estimate],
    ] as const) {
      const { value, tolerance } = repairs.value(name);
      expectAgreement(found, value, tolerance, name);
    }
  });

  it("has the limits of the delta method", () => {
    // One unit from age 0 to T: log intensity at T is log(N beta / T), the parts independent, both with variance 1 / N; so by hand
    // exp(-+ qnorm(0.95) sqrt(2 / 10)) about it, qnorm(0.95) = 1.644853626951
    const { intensity, meanTime } = powerLawRate(fitted(tenRepairs()), 1500, 0.9);
    const reach = Math.exp(1.644853626951 * Math.sqrt(0.2));
    expectAgreement(intensity.low, intensity.estimate! / reach, { rel: 1e-9 });
    expectAgreement(intensity.high, intensity.estimate! * reach, { rel: 1e-9 });
    expectAgreement(meanTime.low, 1 / intensity.high!, { rel: 1e-12 });
    expectAgreement(meanTime.high, 1 / intensity.low!, { rel: 1e-12 });
  });

  // scipy 1.10, from the estimates and the numeric covariance V of (log beta, log lambda) in power-law.test.ts: with g = (1 + beta log t, 1),
  // lambda beta t^(beta - 1) exp(-+ norm.ppf(0.975) sqrt(g V g))
  it("agrees with scipy under late entry, at any age", () => {
    const [beta, logLambda] = [0.5681484463596147, -0.46768703891063845];
    const [vb, vl, both] = [0.06307358670531157, 0.7156346295946046, -0.20688543721535882];
    const fit = fitted(crowSystems([0, 200], [20, 200], [50, 150]));
    for (const age of [5, 80, 400]) {
      const g = 1 + beta * Math.log(age);
      const expected = beta * Math.exp(logLambda + (beta - 1) * Math.log(age));
      const reach = Math.exp(1.959963984540054 * Math.sqrt(g * g * vb + 2 * g * both + vl));
      const { intensity } = powerLawRate(fit, age, 0.95);
      expectAgreement(intensity.estimate, expected, { rel: 1e-6 });
      expectAgreement(intensity.low, expected / reach, { rel: 1e-5 });
      expectAgreement(intensity.high, expected * reach, { rel: 1e-5 });
    }
  });

  it.each([1e9, 1e-9])("gives times in the unit of the ages, here %d times as small", (factor) => {
    const own = powerLawRate(fitted(crowSystems()), 150, 0.95).meanTime;
    const other = powerLawRate(fitted(inUnits(crowSystems(), factor)), 150 * factor, 0.95).meanTime;
    expectAgreement(other.estimate, own.estimate! * factor, { rel: 1e-9 });
    expectAgreement(other.high, own.high! * factor, { rel: 1e-7 });
  });

  it("stays within numbers far out", () => {
    const fit = fitted(eventsOf({ ages: [1e9 - 1, 1e9 - 2], end: 1e9 }));
    for (const age of [1e-9, 1, 1e12]) {
      for (const { estimate, low, high } of [
        powerLawRate(fit, age, 0.95).intensity,
        powerLawRate(fit, age, 0.95).meanTime,
      ]) {
        for (const value of [estimate, low, high]) expect(value === null || value >= 0).toBe(true);
      }
    }
  });

  it("refuses an age of 0, and a level out of range", () => {
    expect(() => powerLawRate(fitted(tenRepairs()), 0, 0.95)).toThrow("found 0");
    expect(() => powerLawRate(fitted(tenRepairs()), Number.NaN, 0.95)).toThrow(RangeError);
    expect(() => powerLawRate(fitted(tenRepairs()), 9, 0)).toThrow("level");
  });
});

function fitted(events: RecurrentEvents): ConvergedPowerLaw {
  const fit = fitPowerLaw(events, { level: 0.95 });
  if (!fit.converged) throw new Error(fit.reason);
  return fit;
}
