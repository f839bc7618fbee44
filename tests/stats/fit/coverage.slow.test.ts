import { describe, expect, it } from "vitest";
import { expectCoverage, tallied, watchings } from "./watched-lives.ts";

// The truth is the Weibull distribution drawn from; of 2,000 sets at 95 % the standard error is 0.49 %.
describe("95 % intervals hold the shape and L10 of the Weibull distribution drawn from", () => {
  it.each(watchings)("in 93.5 to 96.5 per cent of sets with 50 failures, watched $watched: profile", (watching) => {
    expectCoverage(`50 failures, ${watching.watched}`, tallied(watching, 50, false), "plain");
  });

  it.each(watchings.slice(0, 2))("and with 10 failures, watched $watched: calibrated", (watching) => {
    const tally = tallied(watching, 10, true);
    expectCoverage(`10 failures, ${watching.watched}`, tally, "calibrated");
    if (watching.watched !== "to the last failure") return;
    // What calibration is for: the chi-square cut-off covers too little, and the normal interval less still.
    for (const asked of ["shape", "l10"] as const) {
      expect(tally.coverage(asked, "plain"), `${asked}: ${tally}`).toBeGreaterThan(91);
      expect(tally.coverage(asked, "plain"), `${asked}: ${tally}`).toBeLessThan(94);
      expect(tally.coverage(asked, "wald"), `${asked}: ${tally}`).toBeLessThan(tally.coverage(asked, "plain"));
    }
  });
});
