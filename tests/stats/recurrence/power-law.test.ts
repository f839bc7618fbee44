import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type ConvergedPowerLaw, fitPowerLaw } from "../../../src/stats/recurrence/power-law.ts";
import type { RecurrentEvents } from "../../../src/stats/recurrence/recurrent-events.ts";
import { expectAgreement } from "../../agree.ts";
import { crowSystems, eventsOf, inUnits, repairs, seats, tenRepairs, valveSeats } from "./recurrent-cases.ts";

const level = 0.95;

function fitted(events: RecurrentEvents): ConvergedPowerLaw {
  const fit = fitPowerLaw(events, { level });
  if (!fit.converged) throw new Error(fit.reason);
  return fit;
}

/** Where a published figure is in a fit. */
const FIGURES: Record<string, (fit: ConvergedPowerLaw) => number | null> = {
  beta: ({ beta }) => beta,
  lambda: ({ lambda }) => lambda,
  eta: ({ eta }) => eta,
  loglik: ({ logLikelihood }) => logLikelihood,
  loglik_hpp: ({ constantRate }) => constantRate.logLikelihood,
  se_beta: ({ seBeta }) => seBeta,
  se_log_lambda: ({ seLogLambda }) => seLogLambda,
  beta_ci95_log_lo: ({ waldLimits }) => waldLimits.low,
  beta_ci95_log_hi: ({ waldLimits }) => waldLimits.high,
  beta_ci95_lr_lo: ({ profileLimits }) => profileLimits.low,
  beta_ci95_lr_hi: ({ profileLimits }) => profileLimits.high,
  lr_beta1_chisq: ({ constantRate }) => constantRate.statistic,
  lr_beta1_p: ({ constantRate }) => constantRate.p,
};

describe.each([
  { what: "valve seats of 41 engines", published: seats, events: valveSeats() },
  { what: "ten repairs of one system", published: repairs, events: tenRepairs() },
])("fitPowerLaw agrees with the published case on $what", ({ published, events }) => {
  const fit = fitted(events);
  const values = published.values("nhpp.");

  it("has all figures of the case", () => {
    expect(values.map(({ rest }) => rest).sort()).toEqual(Object.keys(FIGURES).sort());
  });

  it.each(values)("in $rest, $how", ({ rest, value, tolerance }) => {
    expectAgreement(FIGURES[rest]?.(fit), Number(value), tolerance, rest);
  });
});

describe("fitPowerLaw", () => {
  it("W-PL2: finds the shape and lambda printed for three systems (Crow 1974, from memory)", () => {
    const fit = fitted(crowSystems());
    expect(fit).toMatchObject({ events: 36, units: 3, exposure: 600, lastEnd: 200 });
    expectAgreement(fit.beta, 0.615, { abs: 1e-3 });
    expectAgreement(fit.lambda, 0.461, { abs: 1e-3 });
  });

  // scipy 1.10: two-parameter maximum of the log-likelihood in (log beta, log lambda) by BFGS, then Nelder-Mead; limits by brentq on its profile;
  // covariance from central second differences with step 1e-4
  it.each([
    {
      what: "three systems from age 0",
      events: crowSystems(),
      beta: 0.6153362451110388,
      logLambda: -0.775340052171372,
      logLikelihood: -132.25929866044942,
      statistic: 10.046974285823751,
      limits: [0.43559480860872285, 0.8387997536804773],
      covariance: [0.02777775494164434, 0.3230333351298964, -0.09056233516572894],
    },
    {
      what: "two of three entering late, one leaving early",
      events: crowSystems([0, 200], [20, 200], [50, 150]),
      beta: 0.5681484463596147,
      logLambda: -0.46768703891063845,
      logLikelihood: -101.68589706533889,
      statistic: 6.037464715792993,
      limits: [0.33694614224179525, 0.899450040640052],
      covariance: [0.06307358670531157, 0.7156346295946046, -0.20688543721535882],
    },
    {
      what: "all three entering late",
      events: crowSystems([10, 200], [20, 180], [50, 150]),
      beta: 0.19921797400438593,
      logLambda: 2.097949226059961,
      logLikelihood: -87.90245647640994,
      statistic: 6.987741921600019,
      limits: [null, 0.7825019809860705],
      covariance: [2.047332344409534, 6.844254827363818, -3.731413918634107],
    },
  ])("agrees with scipy on $what", ({ events, beta, logLambda, logLikelihood, statistic, limits, covariance }) => {
    const fit = fitted(events);
    expectAgreement(fit.beta, beta, { rel: 1e-6 });
    expectAgreement(fit.logLambda, logLambda, { rel: 1e-6 });
    expectAgreement(fit.logLikelihood, logLikelihood, { rel: 1e-9 });
    expectAgreement(fit.constantRate.statistic, statistic, { rel: 1e-6 });
    expectAgreement(fit.profileLimits.high, limits[1]!, { rel: 1e-6 });
    if (limits[0] === null) {
      expect(fit.profileLimits).toMatchObject({ low: null, reason: expect.stringContaining("no lower limit") });
    } else expectAgreement(fit.profileLimits.low, limits[0]!, { rel: 1e-6 });
    const found = [fit.covariance.logBeta, fit.covariance.logLambda, fit.covariance.both];
    for (const [at, value] of covariance.entries()) expectAgreement(found[at], value, { rel: 1e-5 });
  });

  it("finds N / sum log(T / t) for one system, whether an event ended its observation or not", () => {
    // R 4.2.2: x <- c(5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478); 10 / sum(log(1478 / x))
    expectAgreement(fitted(tenRepairs(1478)).beta, 0.5415273531, { rel: 1e-9 });
  });

  it.each([1e9, 1e-9, 3.7])("gives the same in units %d times as small", (factor) => {
    for (const events of [valveSeats(), crowSystems([10, 200], [20, 180], [50, 150])]) {
      const [fit, other] = [fitted(events), fitted(inUnits(events, factor))];
      expectAgreement(other.beta, fit.beta, { rel: 1e-9 });
      expectAgreement(other.profileLimits.high, fit.profileLimits.high!, { rel: 1e-8 });
      expectAgreement(other.seBeta, fit.seBeta, { rel: 1e-8 });
      expectAgreement(other.constantRate.statistic, fit.constantRate.statistic, { rel: 1e-8 });
      // Densities are per unit of age, and an age is so many times as much.
      expectAgreement(other.logLikelihood, fit.logLikelihood - fit.events * Math.log(factor), { abs: 1e-7 });
      expectAgreement(other.eta, fit.eta! * factor, { rel: 1e-7 });
    }
  });

  it("has its maximum where the likelihood by its definition has it", () => {
    const logLikelihood = ({ unit, time, entry, end }: RecurrentEvents, beta: number) => {
      const exposure = end.reduce((sum, to, one) => sum + to ** beta - entry[one]! ** beta, 0);
      const lambda = unit.length / exposure;
      return time.reduce((sum, age) => sum + Math.log(lambda * beta * age ** (beta - 1)), 0) - lambda * exposure;
    };
    const units = fc.array(
      fc.record({
        entry: fc.constantFrom(0, 0, 2, 15),
        length: fc.integer({ min: 1, max: 40 }),
        parts: fc.array(fc.double({ min: 0.01, max: 0.99, noNaN: true }), { minLength: 1, maxLength: 4 }),
      }),
      { minLength: 2, maxLength: 6 },
    );
    fc.assert(
      fc.property(units, (list) => {
        const events = eventsOf(
          ...list.map(({ entry, length, parts }) => ({
            ages: parts.map((part) => entry + part * length),
            entry,
            end: entry + length,
          })),
        );
        const fit = fitPowerLaw(events, { level });
        if (!fit.converged) return list.every(({ entry }) => entry > 0);
        const most = logLikelihood(events, fit.beta);
        expectAgreement(fit.logLikelihood, most, { abs: 1e-7, rel: 1e-7 });
        for (const factor of [0.9, 0.999, 1.001, 1.1]) {
          expect(logLikelihood(events, fit.beta * factor)).toBeLessThanOrEqual(most + 1e-9);
        }
        const cut = 1.9207294103470605; // R: qchisq(0.95, 1) / 2
        expectAgreement(logLikelihood(events, fit.profileLimits.high!), most - cut, { abs: 1e-6 });
        if (fit.profileLimits.low !== null) {
          expectAgreement(logLikelihood(events, fit.profileLimits.low), most - cut, { abs: 1e-6 });
        }
        return true;
      }),
      { seed: 5, numRuns: 200 },
    );
  });

  it.each([
    { what: "no units", events: eventsOf(), reason: "there are no events" },
    { what: "no events", events: eventsOf({ ages: [], end: 9 }), reason: "there are no events" },
    { what: "one event", events: eventsOf({ ages: [4], end: 9 }), reason: "one event alone shows no trend" },
    {
      what: "no time of observation",
      events: eventsOf({ ages: [], entry: 4, end: 4 }),
      reason: "there are no events",
    },
    {
      what: "all events at the highest age",
      events: eventsOf({ ages: [9, 9], end: 9 }, { ages: [], end: 5 }),
      reason: "all events lie at the highest age observed, as under no power of age",
    },
    {
      what: "an event at age 0",
      events: eventsOf({ ages: [0, 5], end: 9 }),
      reason: "an event lies at age 0, where the law gives no likelihood",
    },
    {
      what: "events at age 0 of a unit never watched",
      events: eventsOf({ ages: [0, 0], end: 0 }),
      reason: "an event lies at age 0, where the law gives no likelihood",
    },
    {
      what: "late entry and events soon after it",
      events: eventsOf({ ages: [10.1, 10.2], entry: 10, end: 100 }),
      reason: "events fall off with age faster than under any power law that holds from age 0",
    },
  ])("says why there is no fit: $what", ({ events, reason }) => {
    expect(fitPowerLaw(events, { level })).toMatchObject({ converged: false, reason });
  });

  it("has no Wald limit beyond the range of numbers, where late entries leave beta near 0", () => {
    // By hand: mean log age 3.45393 against 3.45388 in the middle, so that beta is barely above 0: 5.1e-5 / (log(10)^2 / 12) = 1.2e-4
    const near = eventsOf({ ages: [10.1, 99.02], entry: 10, end: 100 });
    const fit = fitted(near);
    expectAgreement(fit.beta, 1.2e-4, { rel: 0.05 });
    expect(fit.waldLimits).toMatchObject({
      high: null,
      reason: expect.stringContaining("beyond the range of numbers"),
    });
    expect(fit.profileLimits.high).toBeGreaterThan(fit.beta);
  });

  it("takes events at one age before the end, and units never watched", () => {
    const events = eventsOf({ ages: [5, 5, 5], end: 10 }, { ages: [], entry: 7, end: 7 });
    // By hand: N / sum log(T / t) = 3 / (3 log 2)
    expectAgreement(fitted(events).beta, 1 / Math.LN2, { rel: 1e-12 });
    expect(fitted(events).units).toBe(1);
  });

  it.each([
    { what: "very high powers", events: eventsOf({ ages: [1e9 - 1, 1e9 - 2], end: 1e9 }) },
    { what: "very low powers", events: eventsOf({ ages: [1e-300, 1e-290], end: 1e9 }) },
    {
      what: "stretches far shorter than the ages",
      events: eventsOf({ ages: [1e9 + 1, 1e9 + 1.5], entry: 1e9, end: 1e9 + 2 }),
    },
  ])("stays within numbers at $what", ({ events }) => {
    const fit = fitted(events);
    for (const value of [fit.beta, fit.logLambda, fit.logLikelihood, fit.seBeta, fit.seLogLambda]) {
      expect(Number.isFinite(value)).toBe(true);
    }
    for (const value of [fit.lambda, fit.eta, fit.profileLimits.low, fit.profileLimits.high]) {
      expect(value === null || (value > 0 && Number.isFinite(value))).toBe(true);
    }
  });

  it("fits 100,000 events of 20,000 units, a third of them entered late, in seconds", () => {
    const units = Array.from({ length: 20_000 }, (_, one) => {
      const entry = one % 3 === 0 ? 10 + (one % 50) : 0;
      const end = entry + 50 + (one % 97);
      return { ages: [0.17, 0.31, 0.55, 0.72, 0.93].map((part) => entry + part * (end - entry)), entry, end };
    });
    const events = eventsOf(...units);
    const before = performance.now();
    expect(fitPowerLaw(events, { level }).converged).toBe(true);
    expect(performance.now() - before).toBeLessThan(5000);
  });

  it("refuses a level out of range", () => {
    expect(() => fitPowerLaw(tenRepairs(), { level: 95 })).toThrow(RangeError);
  });
});
