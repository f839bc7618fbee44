import { describe, expect, it } from "vitest";
import { gatherGaps } from "../../../src/stats/repair/gather-gaps.ts";
import { RepairLikelihood } from "../../../src/stats/repair/repair-likelihood.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { historiesOf, publishedUnits, type UnitOf } from "./repair-data.ts";

const late = publishedUnits(new PublishedCase("15a_kijima_simulated")).map((unit) => ({
  ...unit,
  entry: 0.3 * unit.end,
}));

/** Central differences with one step of Richardson's extrapolation. */
function slopeOf(of: (x: number) => number, x: number, h: number): number {
  const central = (step: number) => (of(x + step) - of(x - step)) / (2 * step);
  return (4 * central(h) - central(2 * h)) / 3;
}

describe("RepairLikelihood has the derivatives of its values", () => {
  const places = (["I", "II"] as const).flatMap((model) =>
    [
      { q: 0.05, e: 0.2 },
      { q: 0.4, e: -0.3 },
      { q: 0.9, e: 0.9 },
      { q: 1, e: Math.log(2) },
    ].map((at) => ({ model, ...at })),
  );

  it.each(places)("at degree $q and log shape $e, model $model", ({ model, q, e }) => {
    const likelihood = new RepairLikelihood(gatherGaps(historiesOf(late)), model);
    const hills = [
      (at: { q: number; e: number }) => likelihood.atBestScale(at, true),
      (at: { q: number; e: number }) => likelihood.atScale(at, Math.log(3500), true),
    ];
    for (const hill of hills) {
      const here = hill({ q, e });
      const near = { abs: 1e-4, rel: 1e-6 };
      expectAgreement(
        here.q,
        slopeOf((x) => hill({ q: x, e }).value, q, 1e-4),
        near,
        "by degree",
      );
      expectAgreement(
        here.e,
        slopeOf((x) => hill({ q, e: x }).value, e, 1e-4),
        near,
        "by shape",
      );
      expectAgreement(
        here.qq,
        slopeOf((x) => hill({ q: x, e }).q, q, 1e-4),
        near,
        "by degree twice",
      );
      expectAgreement(
        here.qe,
        slopeOf((x) => hill({ q, e: x }).q, e, 1e-4),
        near,
        "by both",
      );
      expectAgreement(
        here.ee,
        slopeOf((x) => hill({ q, e: x }).e, e, 1e-4),
        near,
        "by shape twice",
      );
    }
    const scale = likelihood.bestLogScale({ q, e }, true);
    expectAgreement(
      scale.q,
      slopeOf((x) => likelihood.bestLogScale({ q: x, e }, true).value, q, 1e-4),
      { abs: 1e-7 },
    );
    expectAgreement(
      scale.e,
      slopeOf((x) => likelihood.bestLogScale({ q, e: x }, true).value, e, 1e-4),
      { abs: 1e-7 },
    );
    expect(Math.abs(likelihood.atScale({ q, e }, scale.value, false).logScale)).toBeLessThan(1e-8);
  });
});

describe("RepairLikelihood keeps its digits", () => {
  // At shape 1 failures come at one rate whatever the degree: the log-likelihood is r log(r / exposure) - r, by hand.
  it.each<{ what: string; unit: UnitOf; expected: number }>([
    {
      what: "9 failures in 10 at an age of 1e12",
      unit: {
        repairs: [5, 1, 2, 3, 4, 5, 6, 7, 8, 9].map((step, at) => (at === 0 ? step : 1e12 + step)),
        end: 1e12 + 10,
        entry: 1e12,
      },
      expected: 9 * Math.log(9 / 10) - 9,
    },
    {
      what: "3 failures in 1e-9 from new",
      unit: { repairs: [1e-10, 3e-10, 4e-10], end: 1e-9 },
      expected: 3 * Math.log(3e9) - 3,
    },
  ])("$what", ({ unit, expected }) => {
    for (const model of ["I", "II"] as const) {
      const likelihood = new RepairLikelihood(gatherGaps(historiesOf([unit])), model);
      for (const q of [0, 0.3, 1])
        expectAgreement(likelihood.atBestScale({ q, e: 0 }, false).value, expected, { rel: 1e-12 });
    }
  });
});
