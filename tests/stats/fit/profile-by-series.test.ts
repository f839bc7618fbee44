import { describe, expect, it } from "vitest";
import { constraintOf } from "../../../src/stats/fit/constraint.ts";
import { pointOf } from "../../../src/stats/fit/fit.ts";
import { profileAt } from "../../../src/stats/fit/profile.ts";
import { profileBySeries } from "../../../src/stats/fit/profile-by-series.ts";
import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import { replicates } from "../../../src/stats/fit/replicates.ts";
import { weibullSurface } from "../../../src/stats/fit/weibull-surface.ts";
import { workingEstimate } from "../../../src/stats/fit/working-estimate.ts";
import { sumsAround, wideSeries } from "../../../src/stats/weibull/wide-series.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted, marked } from "./fitted.ts";

const watched = fitted(marked("54 187 216 240 244 335 361 373 375 386 410 500+x10"), "weibull");
const { gathered } = watched.surface;
if (gathered === undefined) throw new Error("Weibull lives are gathered");
const at = { level: watched.fit.shape * (gathered.typicalLog - Math.log(watched.fit.scale)), shape: watched.fit.shape };
const series = wideSeries(gathered, at);
const lives = {
  ...gathered,
  sumsAt: (level: number, shape: number, out: { zero: number; one: number; two: number }) =>
    sumsAround(series, level, shape, out),
};

const QUANTITIES: Quantity[] = [
  { kind: "shape" },
  { kind: "scale" },
  { kind: "quantile", p: 0.01 },
  { kind: "quantile", p: 0.1 },
  { kind: "quantile", p: 0.9 },
  { kind: "mean" },
  { kind: "survival", time: 300 },
];

describe("profileBySeries", () => {
  it.each(QUANTITIES)("gives the greatest likelihood that passes over the lives give: $kind $p", (quantity) => {
    const { estimate, error } = workingEstimate(watched.surface.family, watched.fit, quantity);
    for (const errors of [-1.5, -0.5, 0, 1, 1.5]) {
      const held = estimate + errors * error;
      const surface = weibullSurface(gathered);
      const plain = profileAt(surface, constraintOf(quantity, surface), held, pointOf(watched.fit));
      const found = profileBySeries(quantity, held)?.(lives, () => plain!.at.e + 0.07);
      expectAgreement(found, plain!.value, { abs: 1e-10 }, `${errors} errors off`);
    }
  });

  it("gives no number where no series reaches", () => {
    for (const quantity of QUANTITIES) {
      const beyond = { ...lives, sumsAt: () => false };
      expect(profileBySeries(quantity, 1)?.(beyond, () => 0)).toBeNaN();
    }
  });

  it("leaves the chances of single units to the general way", () => {
    expect(profileBySeries({ kind: "conditional", age: 100, further: 50 }, 1)).toBeNull();
  });
});

describe("replicates of Weibull lives", () => {
  it("have the greatest likelihood of their own lives", () => {
    const found = replicates(watched.lives, watched.surface, watched.fit, { draws: 200, seed: 11 });
    if ("reason" in found) throw new Error(found.reason);
    for (const { surface, fit } of found.list) {
      const { value, a, e, aa, ee } = surface.at(Math.log(fit.scale), Math.log(fit.shape));
      expectAgreement(fit.logLikelihood, value, { rel: 1e-12 });
      expect(Math.abs(a)).toBeLessThan(1e-7 * Math.abs(aa));
      expect(Math.abs(e)).toBeLessThan(1e-7 * Math.abs(ee));
    }
  });
});
