import { describe, expect, it } from "vitest";
import { benjaminiHochberg } from "../../../src/stats/multiple/benjamini-hochberg.ts";
import { fitGammaPrior, type SpreadRates } from "../../../src/stats/offenders/gamma-prior.ts";
import { poissonUpperP } from "../../../src/stats/offenders/poisson-upper.ts";
import { shrunkenRates } from "../../../src/stats/offenders/shrunken-rates.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

// Gaver & O'Muircheartaigh, Technometrics 29 (1987) 1-15: failures of ten pumps, thousands of hours
const pumps = new PublishedCase("11_pump_failures");
const counts = { events: pumps.numbers("failures"), exposure: pumps.numbers("thousand_hours") };
const { rows, tolerance } = pumps.table("per_unit");

function fitted(): SpreadRates {
  const prior = fitGammaPrior(counts);
  if (prior.spread !== "gamma") throw new Error(`no spread: ${prior.reason}`);
  return prior;
}

describe("ten pumps", () => {
  it.each([
    { name: "prior.alpha", of: (prior: SpreadRates) => prior.shape },
    { name: "prior.beta", of: (prior: SpreadRates) => prior.rate },
    { name: "prior.se_alpha", of: (prior: SpreadRates) => prior.shapeSe },
    { name: "prior.se_beta", of: (prior: SpreadRates) => prior.rateSe },
    { name: "prior.mean", of: (prior: SpreadRates) => prior.mean },
    { name: "marginal_loglik", of: (prior: SpreadRates) => prior.logLikelihood },
    { name: "poisson_loglik", of: (prior: SpreadRates) => prior.poissonLogLikelihood },
    { name: "pooled_rate", of: (prior: SpreadRates) => prior.pooledRate },
    { name: "dispersion_chisq", of: (prior: SpreadRates) => prior.dispersion.chiSquare },
    { name: "dispersion_p", of: (prior: SpreadRates) => prior.dispersion.p },
  ])("have $name as R finds it", ({ name, of }) => {
    const { value, tolerance } = pumps.value(name);
    expectAgreement(of(fitted()), value, tolerance);
    expect(fitted().dispersion.degrees).toBe(9);
  });

  it.each([
    { column: "posterior_mean", of: "rate" },
    { column: "posterior_lo90", of: "low" },
    { column: "posterior_hi90", of: "high" },
    { column: "p_rate_gt_2x_pooled", of: "probabilityAbove" },
  ] as const)("have $column as R finds it", ({ column, of }) => {
    const found = shrunkenRates(counts, fitted(), { level: 0.9, times: 2 })[of];
    for (const [pump, row] of rows.entries()) expectAgreement(found[pump], row[column] ?? Number.NaN, tolerance);
  });

  it("have the exact Poisson p-values that R finds, and adjusted ones", () => {
    const expected = counts.exposure.map((hours) => hours * fitted().pooledRate);
    const p = poissonUpperP({ events: counts.events, exposure: expected });
    const adjusted = benjaminiHochberg(p);
    for (const [pump, row] of rows.entries()) {
      const [upper, upperAdjusted] = [row["poisson_p_upper"] ?? Number.NaN, row["poisson_p_upper_bh"] ?? Number.NaN];
      expectAgreement(p[pump], upper, { rel: 1e-5 });
      expectAgreement(adjusted[pump], upperAdjusted, { rel: 1e-5 });
    }
  });

  it("have the printed shrunken rates", () => {
    // recomputed from the published counts with scipy 1.10: gamma(alpha + failures, beta + hours) at the marginal maximum
    const rates = [0.0609, 0.1073, 0.0908, 0.1167, 0.5881, 0.6062, 0.7899, 0.7899, 1.4374, 1.9441];
    const found = shrunkenRates(counts, fitted(), { level: 0.9, times: 2 }).rate;
    for (const [pump, rate] of rates.entries()) expectAgreement(found[pump], rate, { abs: 2e-4 });
  });

  it("have another spread with hours rounded as some copies have them", () => {
    // the same recomputation: shape 0.8230, rate 1.2617
    const exposure = Float64Array.of(94.3, 15.7, 62.9, 126, 5.24, 31.4, 1.05, 1.05, 2.1, 10.5);
    const prior = fitGammaPrior({ events: counts.events, exposure });
    expect(prior.spread).toBe("gamma");
    if (prior.spread !== "gamma") return;
    expectAgreement(prior.shape, 0.823, { abs: 1e-4 });
    expectAgreement(prior.rate, 1.2617, { abs: 1e-4 });
  });
});

describe("fitGammaPrior", () => {
  it("follows the unit of the exposures", () => {
    const prior = fitted();
    for (const unit of [1e-9, 1e-6, 1e9]) {
      const found = fitGammaPrior({ events: counts.events, exposure: counts.exposure.map((hours) => hours * unit) });
      if (found.spread !== "gamma") throw new Error(found.reason);
      expectAgreement(found.shape, prior.shape, { rel: 1e-9 });
      expectAgreement(found.rate, prior.rate * unit, { rel: 1e-9 });
      expectAgreement(found.rateSe, prior.rateSe * unit, { rel: 1e-8 });
    }
  });

  it("says so where rates differ by no more than chance, and gives all the pooled rate", () => {
    const alike = { events: Float64Array.of(3, 3, 3), exposure: Float64Array.of(10, 10, 10) };
    const prior = fitGammaPrior(alike);
    expect(prior).toMatchObject({ spread: "none", pooledRate: 0.3, dispersion: { chiSquare: 0, degrees: 2, p: 1 } });
    if (prior.spread === "unknown") return;
    const { rate, low, high, probabilityAbove } = shrunkenRates(alike, prior, { level: 0.9, times: 2 });
    expect([...rate, ...low, ...high]).toEqual(Array(9).fill(0.3));
    expect([...probabilityAbove]).toEqual([0, 0, 0]);
  });

  it.each([
    { name: "nothing", events: [], exposure: [], spread: "unknown" },
    { name: "no exposure, whatever the events", events: [0, 4], exposure: [0, 0], spread: "unknown" },
    { name: "no events", events: [0, 0, 0], exposure: [5, 1, 2], spread: "unknown" },
    { name: "one entity", events: [7], exposure: [2], spread: "none" },
    { name: "huge counts that differ", events: [1e9, 2e9, 5e9], exposure: [1e9, 1e9, 1e9], spread: "gamma" },
    { name: "huge counts at one rate", events: [1e9, 2e9], exposure: [1, 2], spread: "none" },
    { name: "one with everything", events: [1e6, 0, 0, 0], exposure: [1, 1e6, 1e6, 1e6], spread: "gamma" },
    { name: "an hour against a million", events: [1, 300], exposure: [1e-9, 1e9], spread: "gamma" },
  ])("comes to an end on $name", ({ events, exposure, spread }) => {
    const columns = { events: Float64Array.from(events), exposure: Float64Array.from(exposure) };
    const prior = fitGammaPrior(columns);
    expect(prior.spread).toBe(spread);
    expect(JSON.stringify(prior)).not.toContain("null");
    if (prior.spread === "unknown") return;
    const rates = shrunkenRates(columns, prior, { level: 0.9, times: 2 });
    for (const column of Object.values(rates)) expect(column.every(Number.isFinite)).toBe(true);
  });

  it("leaves out an entity without exposure, and gives it what is known of any other", () => {
    const more = { events: Float64Array.of(...counts.events, 3), exposure: Float64Array.of(...counts.exposure, 0) };
    expect(fitGammaPrior(more)).toEqual(fitGammaPrior(counts));
    const prior = fitted();
    expectAgreement(shrunkenRates(more, prior, { level: 0.9, times: 2 }).rate[10], prior.mean, { rel: 1e-12 });
  });

  it("refuses what is no count", () => {
    const wrong = (events: number, exposure: number) => () =>
      fitGammaPrior({ events: Float64Array.of(events), exposure: Float64Array.of(exposure) });
    expect(wrong(1.5, 2)).toThrow("has 1.5 events in an exposure of 2");
    expect(wrong(-1, 2)).toThrow(RangeError);
    expect(wrong(1, Number.NaN)).toThrow(RangeError);
    expect(wrong(1, Number.POSITIVE_INFINITY)).toThrow(RangeError);
    expect(() => fitGammaPrior({ events: Float64Array.of(1), exposure: new Float64Array(0) })).toThrow(
      "1 counts and 0",
    );
  });
});

describe("poissonUpperP", () => {
  // R 4.2.2: ppois(n - 1, mean, lower.tail = FALSE) - mid * dpois(n, mean) / 2, printed with 12 digits
  it.each([
    { n: 0, mean: 2, midP: false, p: 1 },
    { n: 3, mean: 1.2, midP: false, p: 0.120512901216 },
    { n: 3, mean: 1.2, midP: true, p: 0.077140934701 },
    { n: 60, mean: 5, midP: false, p: 7.64961008115e-43 },
    { n: 2000, mean: 1900, midP: false, p: 0.0116958203812 },
    { n: 0, mean: 0, midP: false, p: 1 },
    { n: 0, mean: 0, midP: true, p: 0.5 },
    { n: 2, mean: 0, midP: false, p: 0 },
  ])("gives $p for $n events where $mean are expected, mid-p $midP", ({ n, mean, midP, p }) => {
    const [found] = poissonUpperP({ events: Float64Array.of(n), exposure: Float64Array.of(mean) }, { midP });
    expectAgreement(found, p, { rel: 1e-9 });
  });
});
