import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { FamilyName } from "../../../src/stats/distribution/family.ts";
import { profileInterval } from "../../../src/stats/fit/profile-interval.ts";
import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import type { IntervalLives } from "../../../src/stats/lives.ts";
import { expectAgreement } from "../../agree.ts";
import { fitted } from "./fitted.ts";

// All three by reference-fits.R beside this test: made-up lives, R 4.2.2 and survival 3.5-3.
const lives = rowsOf("reference-lives.csv");
const fits = rowsOf("reference-fits.csv");
const intervals = rowsOf("reference-intervals.csv");

function rowsOf(name: string): string[][] {
  return readFileSync(new URL(name, import.meta.url), "utf8")
    .trim()
    .split("\n")
    .slice(1)
    .map((row) => row.split(","));
}

function livesOf(set: string): IntervalLives {
  const rows = lives.filter(([name]) => name === set);
  const column = (at: number) =>
    Float64Array.from(rows, (row) => (row[at] === "Inf" ? Number.POSITIVE_INFINITY : Number(row[at])));
  const entry = column(3);
  return { low: column(1), high: column(2), count: column(4), ...(entry.some((age) => age > 0) ? { entry } : {}) };
}

describe("fitSurface", () => {
  it.each(
    fits.map(([set, family, source, ...figures]) => ({ set: set!, family: family as FamilyName, source, figures })),
  )("$family on the lives $set, as by $source of R", ({ set, family, figures }) => {
    const { fit } = fitted(livesOf(set), family);
    const [a, e, logLikelihood, vScale, across, vShape] = figures.map(Number) as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    expectAgreement(Math.log(fit.scale), a, { abs: 1e-8 }, "log scale");
    expectAgreement(Math.log(fit.shape), e, { abs: 1e-8 }, "log shape");
    expectAgreement(fit.logLikelihood, logLikelihood, { rel: 1e-10 }, "log-likelihood");
    const tolerance = { rel: 1e-6, abs: 1e-8 };
    expectAgreement(fit.covariance[0][0], vScale, tolerance, "variance of log scale");
    expectAgreement(fit.covariance[0][1], across, tolerance, "covariance");
    expectAgreement(fit.covariance[1][0], across, tolerance, "covariance");
    expectAgreement(fit.covariance[1][1], vShape, tolerance, "variance of log shape");
  });
});

const QUANTITIES: Record<string, Quantity> = {
  shape: { kind: "shape" },
  scale: { kind: "scale" },
  L10: { kind: "quantile", p: 0.1 },
  mean: { kind: "mean" },
  survival: { kind: "survival", time: 300 },
  conditional: { kind: "conditional", age: 400, further: 300 },
};

describe("profileInterval", () => {
  it.each(
    intervals.map(([set, family, quantity, ...figures]) => ({
      set: set!,
      family: family as FamilyName,
      quantity: quantity!,
      figures,
    })),
  )(
    "of $quantity, $family on the lives $set, as by optimize() and uniroot() of R",
    ({ set, family, quantity, figures }) => {
      const { surface, fit } = fitted(livesOf(set), family);
      const found = profileInterval(surface, fit, QUANTITIES[quantity]!, 0.95);
      const [estimate, low, high] = figures.map(Number) as [number, number, number];
      expectAgreement(found.estimate, estimate, { rel: 1e-8 }, "estimate");
      expectAgreement(found.low, low, { rel: 1e-7 }, "low");
      expectAgreement(found.high, high, { rel: 1e-7 }, "high");
      expect(found.reason).toBeUndefined();
    },
  );
});
