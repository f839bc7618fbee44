import { describe, expect, it } from "vitest";
import { kaplanMeier } from "../../../src/stats/survival/kaplan-meier.ts";
import { restrictedMean } from "../../../src/stats/survival/restricted-mean.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const bearings = new PublishedCase("01_ball_bearings");
const bearingSteps = kaplanMeier(
  { time: bearings.numbers("revolutions_million"), failed: bearings.flags("failed") },
  { level: 0.95, limits: "log-log" },
);

describe("restrictedMean", () => {
  it("agrees with R: summary(survfit(Surv(time, status) ~ 1), rmean = 30)$table on the treated group of Gehan 1965", () => {
    const words = "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+".split(" ");
    const steps = kaplanMeier(
      {
        time: Float64Array.from(words, (word) => Number.parseFloat(word)),
        failed: Uint8Array.from(words, (word) => (word.endsWith("+") ? 0 : 1)),
      },
      { level: 0.95, limits: "log-log" },
    );
    const mean = restrictedMean(steps, 30, 0.95);
    expectAgreement(mean.estimate, 21.04649859943977, { rel: 1e-12 });
    expectAgreement(mean.se, 2.24380195155946, { rel: 1e-12 });
  });

  it("agrees with R: the same with rmean = 100 on the ball bearings of Lieblein & Zelen 1956", () => {
    const mean = restrictedMean(bearingSteps, 100, 0.95);
    expectAgreement(mean.estimate, 66.12347826086956, { rel: 1e-12 });
    expectAgreement(mean.se, 5.36990361928538, { rel: 1e-12 });
  });

  const lung = new PublishedCase("07_lung");
  it.each([
    [1, 365],
    [1, 900],
    [2, 365],
    [2, 900],
  ])(
    "agrees with the area under survfit() on the lung data of Loprinzi et al. 1994: sex %d, to %d days",
    (sex, until) => {
      const rows = Array.from(lung.numbers("sex").keys()).filter((row) => lung.numbers("sex")[row] === sex);
      const pick = (name: string) => rows.map((row) => lung.numbers(name)[row]!);
      const lives = { time: Float64Array.from(pick("time")), failed: Uint8Array.from(pick("event")) };
      const mean = restrictedMean(kaplanMeier(lives, { level: 0.95, limits: "log-log" }), until, 0.95);
      const { value, tolerance } = lung.value(`rmst${until}_sex${sex}`);
      expectAgreement(mean.estimate, value, tolerance);
      const error = lung.value(`rmst${until}_sex${sex}_se`);
      expectAgreement(mean.se, error.value, error.tolerance);
    },
  );

  it("is the plain mean once all have failed (sum of the listing 1661.16 / 23)", () => {
    expectAgreement(restrictedMean(bearingSteps, 500, 0.95).estimate, 1661.16 / 23, { rel: 1e-12 });
  });

  it("refuses an age beyond what the curve has seen", () => {
    const steps = kaplanMeier(
      { time: Float64Array.of(1, 2), failed: Uint8Array.of(1, 0) },
      { level: 0.95, limits: "log" },
    );
    expect(() => restrictedMean(steps, 3, 0.95)).toThrow("the curve ends at 2, found 3");
    expect(() => restrictedMean([], 3, 0.95)).toThrow(RangeError);
  });
});
