import { describe, expect, it } from "vitest";
import { expectedFailures, type TrialPlan } from "../../../src/stats/trial/expected-failures.ts";
import { trialDuration } from "../../../src/stats/trial/trial-duration.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const one = { rebuildsPerMonth: 5, shape: 1, scale: 20 };

describe("expectedFailures", () => {
  const { rows, tolerance } = new PublishedCase("16_sample_size").table("event_probability");
  it.each(rows)("agrees with case 16: shape $shape, accrual $accrual, follow-up $follow_up", (row) => {
    const { shape, scale, accrual, follow_up: followUp, p_event: chance } = row as Record<string, number>;
    const plan = { arms: [{ rebuildsPerMonth: 7, shape: shape!, scale: scale! }], buildingMonths: accrual! };
    expectAgreement(expectedFailures(plan, accrual! + followUp!) / (7 * accrual!), chance!, tolerance);
  });

  it.each([
    {
      plan: { arms: [one] },
      month: 24,
      failures: 5 * (24 - 20 * -Math.expm1(-1.2)),
      source: "by hand: 5 (T - 20 (1 - exp(-T / 20)))",
    },
    // scipy 1.17, quad of b/e (t/e)^(b-1) exp(-(t/e)^b - t/m) min(A, T - t) over 0..T-A and T-A..T, times the rate, summed over arms
    {
      plan: {
        arms: [
          { rebuildsPerMonth: 3, shape: 1.5, scale: 27.4 },
          { rebuildsPerMonth: 3, shape: 1.5, scale: 34.25 },
        ],
        buildingMonths: 24,
        removedAfter: 40,
      },
      month: 36,
      failures: 50.81059349100747,
      source: "scipy quad",
    },
    {
      plan: { arms: [{ rebuildsPerMonth: 2, shape: 0.7, scale: 10 }], removedAfter: 15 },
      month: 24,
      failures: 23.313086667471485,
      source: "scipy quad",
    },
    {
      plan: { arms: [{ rebuildsPerMonth: 4, shape: 4, scale: 12 }], buildingMonths: 6, removedAfter: 30 },
      month: 60,
      failures: 16.78826120912005,
      source: "scipy quad",
    },
    { plan: { arms: [one] }, month: 0, failures: 0, source: "by hand" },
    {
      plan: { arms: [{ rebuildsPerMonth: 1, shape: 40, scale: 3 }], buildingMonths: 10 },
      month: 1e6,
      failures: 10,
      source: "by hand: all fail",
    },
  ] satisfies { plan: TrialPlan; month: number; failures: number; source: string }[])(
    "by month $month: $failures ($source)",
    ({ plan, month, failures }) => {
      expectAgreement(expectedFailures(plan, month), failures, { abs: 1e-12, rel: 1e-9 });
    },
  );

  it("refuses plans that can't be", () => {
    expect(() => expectedFailures({ arms: [] }, 1)).toThrow("Cannot plan a trial: found arms");
    expect(() => expectedFailures({ arms: [{ ...one, rebuildsPerMonth: 0 }] }, 1)).toThrow(RangeError);
    expect(() => expectedFailures({ arms: [one], removedAfter: 0 }, 1)).toThrow("removed 0");
    expect(() => expectedFailures({ arms: [one] }, Number.NaN)).toThrow("the month must be 0 or more, found NaN");
  });
});

describe("trialDuration", () => {
  it("is when the failures to expect are those needed", () => {
    const plan = { arms: [one, { rebuildsPerMonth: 5, shape: 1.6, scale: 31 }], removedAfter: 60 };
    const found = trialDuration(plan, 70);
    if (found.months === null) throw new Error(found.reason);
    expectAgreement(expectedFailures(plan, found.months), 70, { rel: 1e-8 });
    expectAgreement(found.builds, 10 * found.months, { rel: 1e-12 });
  });

  it("counts builds up to the end of building", () => {
    const found = trialDuration({ arms: [one], buildingMonths: 12 }, 40);
    // By hand: 5 (12 - 20 exp(-T / 20) (exp(12 / 20) - 1)) = 40 at T = 20 ln(20 (exp(0.6) - 1) / 4) = 28.304
    expectAgreement(found.months, 20 * Math.log(5 * Math.expm1(0.6)), { rel: 1e-8 });
    expect(found).toMatchObject({ builds: 60 });
  });

  it("says so where so many failures never come", () => {
    expect(trialDuration({ arms: [one], buildingMonths: 12 }, 70)).toEqual({
      months: null,
      reason: "of the 70 failures needed only 60.0 are to be expected in 100 years",
    });
    expect(() => trialDuration({ arms: [one] }, 0)).toThrow("the failures needed must be above 0");
  });
});
