import { describe, expect, it } from "vitest";
import { countLimits } from "../../../src/stats/rate/count-limits.ts";
import { meanTimeBetween } from "../../../src/stats/rate/mean-time-between.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

describe("meanTimeBetween", () => {
  it("W-HPP1: NIST/SEMATECH e-Handbook 8.4.5.1, 800 h with 2 failures, 90 %: factors 0.3177 and 5.6281 on 400 h (from memory)", () => {
    const { estimate, low, high } = meanTimeBetween(2, 800, 0.9);
    expect(estimate).toBe(400);
    expectAgreement(low! / 400, 0.3177, { abs: 1e-4 });
    expectAgreement(high! / 400, 5.6281, { abs: 1e-4 });
  });

  it("W-HPP1: 10 000 h without a failure, 95 %: only a lower limit, 3338 h, by -T / ln(1 - level)", () => {
    const none = meanTimeBetween(0, 10_000, 0.95);
    expectAgreement(none.low, 3338, { abs: 1 });
    expect(none).toMatchObject({ estimate: null, high: null, reason: "no events: only a lower bound exists" });
  });

  it("gives the exponential mean of the fans (Nelson 1982: 344440 h, 12 failures; limits by R's qchisq)", () => {
    const fans = new PublishedCase("03_genfan");
    const exposure = fans.numbers("hours").reduce((sum, hours) => sum + hours, 0);
    const found = meanTimeBetween(12, exposure, 0.95);
    for (const [figure, name] of [
      ["estimate", "mean"],
      ["low", "mean_ci95_chisq_lo"],
      ["high", "mean_ci95_chisq_hi"],
    ] as const) {
      const { value, tolerance } = fans.value(`exponential.${name}`);
      expectAgreement(found[figure], value, tolerance, name);
    }
  });

  it("gives the cumulative mean time of the repairable system (NIST/SEMATECH e-Handbook 8.2.2.3: 10 repairs in 1500 h)", () => {
    const { value, tolerance } = new PublishedCase("05_nist_repairable").value("mle.cumulative_mtbf");
    expectAgreement(meanTimeBetween(10, 1500, 0.95).estimate, value, tolerance);
  });

  it("has no answer where nothing was watched, and refuses events out of nowhere", () => {
    expect(meanTimeBetween(0, 0, 0.95)).toEqual({
      estimate: null,
      low: null,
      high: null,
      reason: "nothing was watched",
    });
    expect(() => meanTimeBetween(1, 0, 0.95)).toThrow("1 events in an exposure of 0");
    expect(() => meanTimeBetween(1.5, 10, 0.95)).toThrow("whole number from 0, found 1.5");
    expect(() => meanTimeBetween(1, Number.NaN, 0.95)).toThrow(RangeError);
    expect(() => meanTimeBetween(1, 10, 1)).toThrow(RangeError);
  });
});

describe("countLimits", () => {
  // R 4.2.2: qchisq(0.025, 2 * events) / 2 and qchisq(0.975, 2 * events + 2) / 2.
  it.each([
    [1000, 938.973018408, 1063.95213602],
    [20_000, 19723.7676006, 20279.1336279],
    [1_000_000, 998040.98334, 1001961.91195],
  ])("stays exact for %d events: %d to %d", (events, low, high) => {
    const limits = countLimits(events, 0.95);
    expectAgreement(limits.low, low, { rel: 1e-11 });
    expectAgreement(limits.high, high, { rel: 1e-11 });
  });

  const garwood = [
    [0, 0, 3.689],
    [1, 0.0253, 5.572],
    [2, 0.2422, 7.225],
    [3, 0.6187, 8.767],
    [5, 1.6235, 11.668],
    [10, 4.7954, 18.39],
  ] as const;
  it.each(garwood)("W-RT1: %d events, 95 %%: %d to %d (Garwood 1936, from memory)", (events, low, high) => {
    const limits = countLimits(events, 0.95);
    expectAgreement(limits.low, low, { abs: 1e-3 });
    expectAgreement(limits.high, high, { abs: 1e-3 });
  });
});
