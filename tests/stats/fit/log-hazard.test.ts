import { describe, expect, it } from "vitest";
import { familyOf } from "../../../src/stats/distribution/families.ts";
import { logHazardAt, logHazardBetween } from "../../../src/stats/fit/log-hazard.ts";
import type { Slopes } from "../../../src/stats/fit/slopes.ts";
import { expectAgreement } from "../../agree.ts";
import { FAMILIES } from "./fitted.ts";

const logLogistic = familyOf("log-logistic");
const weibull = familyOf("weibull");

describe("log cumulative hazard", () => {
  it.each([-900, -30, -1, 0.5, 30, 900])(
    "of the log-logistic at w = %d, shape 2, is log log(1 + exp(2 w)) by algebra",
    (w) => {
      const exact = w > 20 ? Math.log(2 * w) : w < -20 ? 2 * w : Math.log(Math.log1p(Math.exp(2 * w)));
      expectAgreement(logHazardAt(logLogistic, w, Math.LN2).value, exact, { rel: 1e-13 });
    },
  );

  it("of the Weibull is k w, with k w beyond the range of exp too", () => {
    for (const w of [-900, 0.3, 900])
      expectAgreement(logHazardAt(weibull, w, Math.log(3)).value, 3 * w, { rel: 1e-15 });
  });

  it.each([
    { w: 2, further: 1e-13, exact: 6 + Math.log(3e-13) },
    { w: -400, further: 0.5, exact: -1200 + Math.log(Math.expm1(1.5)) },
    { w: 1, further: 800, exact: 3 + 2400 },
  ])(
    "of the Weibull between $w and $further more, shape 3, is 3 w + log(exp(3 further) - 1) by algebra",
    ({ w, further, exact }) => {
      expectAgreement(logHazardBetween(weibull, w, further, Math.log(3)).value, exact, { rel: 1e-12 });
    },
  );

  it.each([
    // The hazard by log age is k / (1 + exp(-k w)); at w = 2 that is 3 / (1 + exp(-6)).
    { w: 2, further: 1e-13, exact: Math.log(3e-13 / (1 + Math.exp(-6))) },
    // Far below it is the fraction failed, exp(k w).
    { w: -400, further: 0.5, exact: -1200 + Math.log(Math.expm1(1.5)) },
    { w: 0, further: 1, exact: Math.log(Math.log((1 + Math.exp(3)) / 2)) },
  ])("of the log-logistic between $w and $further more, shape 3, by algebra", ({ w, further, exact }) => {
    expectAgreement(logHazardBetween(logLogistic, w, further, Math.log(3)).value, exact, { rel: 1e-12 });
  });

  const places = FAMILIES.flatMap((name) =>
    [
      { w: -0.4, further: null },
      { w: -60, further: null },
      { w: 1.1, further: null },
      { w: -0.4, further: 0.7 },
      { w: 0.8, further: 2e-7 },
      { w: -60, further: 0.7 },
    ].map((place) => ({ name, ...place })),
  );

  it.each(places)("has the slopes of its values: $name at $w, $further", ({ name, w, further }) => {
    const family = familyOf(name);
    const at = (a: number, e: number): Slopes =>
      further === null ? logHazardAt(family, w - a, e) : logHazardBetween(family, w - a, further, e);
    const [h, e] = [1e-4, 0.3];
    const found = at(0, e);
    const slope = (of: (x: number) => number) => (8 * (of(h) - of(-h)) - (of(2 * h) - of(-2 * h))) / (12 * h);
    const rounding = { rel: 1e-8, abs: 1e-8 * (1 + Math.abs(found.value)) };
    expectAgreement(
      found.a,
      slope((x) => at(x, e).value),
      rounding,
      "a",
    );
    expectAgreement(
      found.e,
      slope((x) => at(0, e + x).value),
      rounding,
      "e",
    );
    expectAgreement(
      found.aa,
      slope((x) => at(x, e).a),
      rounding,
      "aa",
    );
    expectAgreement(
      found.ae,
      slope((x) => at(x, e).e),
      rounding,
      "ae",
    );
    expectAgreement(
      found.ee,
      slope((x) => at(0, e + x).e),
      rounding,
      "ee",
    );
    expect(Number.isFinite(found.value)).toBe(true);
  });
});
