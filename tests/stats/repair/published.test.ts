import { describe, expect, it } from "vitest";
import { degreeOfRepair, type FittedRepair } from "../../../src/stats/repair/degree-of-repair.ts";
import { profilePoint } from "../../../src/stats/repair/degree-profile.ts";
import { gatherGaps } from "../../../src/stats/repair/gather-gaps.ts";
import { RepairLikelihood } from "../../../src/stats/repair/repair-likelihood.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { historiesOf, publishedUnits } from "./repair-data.ts";

/** A published figure in our answer. */
const figures: Record<string, (fit: FittedRepair) => number | null> = {
  q: ({ q }) => q.estimate,
  shape: ({ shape }) => shape.estimate,
  scale: ({ scale }) => scale.estimate,
  loglik: ({ logLikelihood }) => logLikelihood,
  se_q: ({ standardErrors }) => standardErrors.q,
  se_log_shape: ({ standardErrors }) => standardErrors.logShape,
  se_log_scale: ({ standardErrors }) => standardErrors.logScale,
  q_ci95_lr_lo: ({ q }) => q.low,
  q_ci95_lr_hi: ({ q }) => q.high,
  "q1.shape": ({ tests }) => tests.before.shape,
  "q1.scale": ({ tests }) => tests.before.scale,
  "q1.loglik": ({ tests }) => tests.before.logLikelihood,
  "q0.shape": ({ tests }) => tests.new.shape,
  "q0.scale": ({ tests }) => tests.new.scale,
  "q0.loglik": ({ tests }) => tests.new.logLikelihood,
  lr_q0_chisq: ({ tests }) => tests.new.statistic,
  lr_q1_chisq: ({ tests }) => tests.before.statistic,
};

describe.each([
  { name: "15a_kijima_simulated", figureCount: 17 },
  { name: "15b_kijima_valve_seats", figureCount: 14 },
])("degreeOfRepair agrees in all of $name", ({ name, figureCount }) => {
  const published = new PublishedCase(name);
  const histories = historiesOf(publishedUnits(published));
  const found = degreeOfRepair(histories, { model: "I", level: 0.95 });
  if (!found.converged) throw new Error(found.reason);
  const known = published.values("");

  it(`whose ${figureCount} figures are all looked at`, () => {
    expect(known).toHaveLength(figureCount);
    expect(known.filter((one) => figures[one.name] === undefined)).toEqual([]);
  });

  it.each(known)("$name is $value", ({ name: figure, value, tolerance }) => {
    expectAgreement(figures[figure]?.(found), Number(value), tolerance, figure);
  });

  const { rows, tolerance } = published.table("profile");
  it.each(rows)("the greatest log-likelihood at degree $q is $loglik", ({ q, loglik }) => {
    const likelihood = new RepairLikelihood(gatherGaps(histories), "I");
    expectAgreement(profilePoint(likelihood, { q: q!, e: 0 })?.slopes.value, loglik!, tolerance);
  });
});

describe("degreeOfRepair of valve seats", () => {
  const seats = new PublishedCase("04_valve_seats");
  const names = [...new Set(seats.texts("id"))];
  const rows = seats
    .texts("id")
    .map((id, row) => ({ id, age: seats.numbers("time")[row]!, status: seats.flags("status")[row] }));
  const units = names.map((name) => ({
    repairs: rows.filter(({ id, status }) => id === name && status === 1).map(({ age }) => age),
    end: rows.find(({ id, status }) => id === name && status === 0)!.age,
  }));
  const found = degreeOfRepair(historiesOf(units), { model: "I", level: 0.95 });

  it("takes two replacements of an engine on one day as one, and counts them", () => {
    // Case 15b: 48 replacements, "two pairs of replacements at one age were merged (46 events)"
    expect(found).toMatchObject({ repairs: 46, failures: 46, merged: 2, units: 41, isSensitivity: false });
    expect(found.converged && found.logLikelihood).toBeCloseTo(
      new PublishedCase("15b_kijima_valve_seats").value("loglik").value,
      6,
    );
  });

  it("says that the likelihood still rises at 1, by how much, and has no limit there", () => {
    if (!found.converged) throw new Error(found.reason);
    expect(found).toMatchObject({ q: { estimate: 1, high: 1, atBoundary: "before" }, risesPastBefore: true });
    expect(found.standardErrors.q).toBeNull();
    expect(found.tests.before).toMatchObject({ statistic: 0, p: 1 });
    // R: pchisq(4.48584287387, 1, lower.tail = FALSE) / 2, half of the chi-square tail of case 15b's statistic
    expectAgreement(found.tests.new.p, 0.0170883448401, { rel: 1e-6 });
    // Case 15b prints the profile at 1 and 2: between them the mean slope is 0.88, and the profile is concave, so that at 1 is larger.
    expect(found.slopeAtBefore).toBeGreaterThan(0.88);
  });
});
