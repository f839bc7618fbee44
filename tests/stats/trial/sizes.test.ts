import { describe, expect, it } from "vitest";
import { detectableRatio } from "../../../src/stats/trial/detectable-ratio.ts";
import { failureChance } from "../../../src/stats/trial/failure-chance.ts";
import { failuresNeeded } from "../../../src/stats/trial/failures-needed.ts";
import { failuresToSettle } from "../../../src/stats/trial/failures-to-settle.ts";
import { hazardRatioOf, lifeRatioOf } from "../../../src/stats/trial/life-ratio.ts";
import { monthsForFailures } from "../../../src/stats/trial/months-for-failures.ts";
import { powerOfFailures } from "../../../src/stats/trial/power-of-failures.ts";
import { unitsNeeded } from "../../../src/stats/trial/units-needed.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const published = new PublishedCase("16_sample_size");

describe("sizes of a trial agree with case 16", () => {
  const { rows, tolerance } = published.table("schoenfeld");
  it.each(rows)("ratio $hazard_ratio, share $share_group1, power $power: $events failures, $units units", (row) => {
    const [hazardRatio, power, level] = [ratioOf(row["hazard_ratio"]!), row["power"]!, 1 - row["alpha"]!];
    const share = ratioOf(row["share_group1"]!);
    const lives = { shape: 1.5, scale: 20_000, accrual: 8760, followUp: 8760 };
    const found = unitsNeeded({ ...lives, hazardRatio, share }, { level, power });
    expectAgreement(found.failures.exact, row["events_exact"]!, tolerance, "failures");
    expect(found.failures.whole).toBe(row["events"]);
    expectAgreement(found.chances[0], row["p_event_group1"]!, tolerance, "first chance");
    expectAgreement(found.chances[1], row["p_event_group2"]!, tolerance, "second chance");
    expectAgreement(found.units?.exact, row["units_exact"]!, tolerance, "units");
    expect(found.units?.whole).toBe(row["units"]);
  });

  const power = published.table("power_given_events");
  it.each(power.rows)("$events failures find a ratio of $hazard_ratio with chance $power", (row) => {
    const found = powerOfFailures(row["events"]!, row["hazard_ratio"]!, { share: 0.5 }, 0.95);
    expectAgreement(found, row["power"]!, power.tolerance);
  });

  const chances = published.table("event_probability");
  it.each(chances.rows)("shape $shape, accrual $accrual, follow-up $follow_up: $p_event fail", (row) => {
    const following = {
      shape: row["shape"]!,
      scale: row["scale"]!,
      accrual: row["accrual"]!,
      followUp: row["follow_up"]!,
    };
    expectAgreement(failureChance(following), row["p_event"]!, chances.tolerance);
  });
});

/** The tables print thirds to 12 digits. */
function ratioOf(printed: number): number {
  const thirds = Math.round(printed * 3);
  return Math.abs(printed * 3 - thirds) < 1e-9 ? thirds / 3 : printed;
}

describe("failuresNeeded", () => {
  // W-SS1: D. A. Schoenfeld, Biometrics 39 (1983) 499-503, formula; figures recomputed
  it.each([
    { ratio: 1.25, compared: { share: 0.5 }, power: 0.8, failures: 630.5 },
    { ratio: 1.5, compared: { share: 0.5 }, power: 0.8, failures: 190.97 },
    { ratio: 2, compared: { share: 0.5 }, power: 0.8, failures: 65.35 },
    { ratio: 2.5, compared: { share: 0.5 }, power: 0.8, failures: 37.4 },
    { ratio: 3, compared: { share: 0.5 }, power: 0.8, failures: 26 },
    { ratio: 1.5, compared: { share: 0.5 }, power: 0.9, failures: 255.7 },
    { ratio: 2, compared: { share: 0.5 }, power: 0.9, failures: 87.5 },
    { ratio: 1.5, compared: { variance: 1 }, power: 0.8, failures: 47.7 },
  ])("W-SS1: a ratio of $ratio at power $power takes $failures", ({ ratio, compared, power, failures }) => {
    expectAgreement(failuresNeeded(ratio, compared, { power }).exact, failures, { abs: 0.05 });
    expectAgreement(failuresNeeded(1 / ratio, compared, { power }).exact, failures, { abs: 0.05 });
  });

  it("counts a measured value in any unit alike", () => {
    const thou = failuresNeeded(1.2, { variance: 1.44 });
    const mm = failuresNeeded(1.2 ** (1 / 0.0254), { variance: 1.44 * 0.0254 ** 2 });
    expectAgreement(mm.exact, thou.exact, { rel: 1e-9 });
  });

  it("refuses what is no question", () => {
    expect(() => failuresNeeded(1, { share: 0.5 })).toThrow("other than 1, found 1");
    expect(() => failuresNeeded(-2, { share: 0.5 })).toThrow(RangeError);
    expect(() => failuresNeeded(2, { share: 1 })).toThrow("the share must lie in (0, 1), found 1");
    expect(() => failuresNeeded(2, { variance: 0 })).toThrow("the variance must be above 0");
    expect(() => failuresNeeded(2, { share: 0.5 }, { power: 0.02 })).toThrow("the power must lie in (0.025");
    expect(() => failuresNeeded(2, { share: 0.5 }, { power: Number.NaN })).toThrow(RangeError);
    expect(() => failuresNeeded(2, { share: 0.5 }, { level: 1 })).toThrow("the level must lie in (0, 1)");
    expect(() => failuresNeeded(1 + 1e-12, { share: 0.5 })).toThrow("so small that it takes");
  });
});

describe("detectableRatio", () => {
  it("is the ratio for which so many failures are needed, on either scale", () => {
    for (const compared of [{ share: 0.3 }, { variance: 2.5 }]) {
      const ratio = detectableRatio(57, compared, { power: 0.9 });
      expectAgreement(failuresNeeded(ratio, compared, { power: 0.9 }).exact, 57, { rel: 1e-12 });
    }
  });

  it("gives 1.5 for W-SS1's 190.97 failures, and refuses none", () => {
    expectAgreement(detectableRatio(190.968040184, { share: 0.5 }), 1.5, { abs: 1e-9 });
    expect(() => detectableRatio(0, { share: 0.5 })).toThrow("failures must be above 0, found 0");
  });
});

describe("lifeRatioOf and hazardRatioOf", () => {
  // By hand: 2^(-1 / 1.5) = 0.629961; 1.25^-2 = 0.64
  it("turn one into the other", () => {
    expectAgreement(lifeRatioOf(2, 1.5), 0.629961, { abs: 5e-7 });
    expectAgreement(hazardRatioOf(1.25, 2), 0.64, { abs: 1e-15 });
    expectAgreement(hazardRatioOf(lifeRatioOf(3, 0.8), 0.8), 3, { rel: 1e-12 });
    expect(() => lifeRatioOf(0, 1)).toThrow("the hazard ratio must be above 0");
    expect(() => hazardRatioOf(1, 0)).toThrow("the shape must be above 0");
  });
});

describe("failuresToSettle", () => {
  // By hand: 40 ((1.959964 + 0.841621) 0.2 / ln 1.5)^2 - 40 = 40 (0.560317 / 0.405465)^2 - 40 = 36.387
  it("gives the failures that shrink the error to what a ratio needs", () => {
    const found = failuresToSettle({ failures: 40, standardError: 0.2 }, 1.5);
    expectAgreement(found.exact, 36.387, { abs: 5e-4 });
    expect(found.whole).toBe(37);
    expectAgreement(failuresToSettle({ failures: 40, standardError: 0.2 }, 1 / 1.5).exact, found.exact, { rel: 1e-12 });
  });

  it("comes to Schoenfeld's number where the error is that of two like groups", () => {
    const soFar = { failures: 50, standardError: Math.sqrt(4 / 50) };
    const needed = failuresNeeded(1.5, { share: 0.5 }).exact;
    expectAgreement(failuresToSettle(soFar, 1.5).exact, needed - 50, { rel: 1e-12 });
  });

  it("is 0 where there are enough, and refuses what is no error", () => {
    expect(failuresToSettle({ failures: 500, standardError: 0.05 }, 1.5)).toEqual({ exact: 0, whole: 0 });
    expect(() => failuresToSettle({ failures: 5, standardError: 0 }, 1.5)).toThrow(
      "the standard error must be above 0",
    );
    expect(() => failuresToSettle({ failures: 5, standardError: 0.1 }, 1)).toThrow(
      "the ratio must be above 0, finite and other than 1",
    );
  });
});

describe("monthsForFailures", () => {
  it.each([
    { wait: 31, seen: { failures: 24, months: 12 }, found: { months: 15.5 }, source: "by hand: 31 / 24 * 12" },
    { wait: 0, seen: { failures: 0, months: 12 }, found: { months: 0 }, source: "by hand" },
    {
      wait: 5,
      seen: { failures: 0, months: 12 },
      found: { months: null, reason: "no failure was seen in the period that the rate comes from" },
      source: "by hand",
    },
  ])("$wait failures: $source", ({ wait, seen, found }) => {
    expect(monthsForFailures(wait, seen)).toEqual(found);
  });

  it("refuses what is no rate", () => {
    expect(() => monthsForFailures(1, { failures: 1, months: 0 })).toThrow(RangeError);
    expect(() => monthsForFailures(Number.NaN, { failures: 1, months: 1 })).toThrow(RangeError);
    expect(() => monthsForFailures(1, { failures: -1, months: 1 })).toThrow("found 1 to wait for, -1 in 1 months");
  });
});

describe("failureChance and unitsNeeded at the ends", () => {
  it.each([
    {
      name: "no accrual",
      following: { shape: 2, scale: 10, accrual: 0, followUp: 5 },
      chance: -Math.expm1(-0.25),
      source: "by hand: 1 - exp(-(5/10)^2)",
    },
    {
      name: "an accrual next to none",
      following: { shape: 2, scale: 10, accrual: 1e-9, followUp: 5 },
      chance: -Math.expm1(-0.25),
      source: "by hand: the same",
    },
    {
      name: "not followed at all",
      following: { shape: 2, scale: 10, accrual: 0, followUp: 0 },
      chance: 0,
      source: "by hand",
    },
    // F(u) = u / scale (1 - u / 2 scale) at shape 1: mean over 0..1 of u / 1e9 = 5e-10
    {
      name: "next to none fail",
      following: { shape: 1, scale: 1e9, accrual: 1, followUp: 0 },
      chance: 5e-10,
      source: "by hand",
    },
    {
      name: "all fail at once",
      following: { shape: 3, scale: 1e-200, accrual: 1, followUp: 1 },
      chance: 1,
      source: "by hand",
    },
  ])("$name", ({ following, chance }) => {
    expectAgreement(failureChance(following), chance, { rel: 1e-8 });
  });

  it("says so where next to no units would fail", () => {
    const trial = { hazardRatio: 2, share: 0.5, shape: 20, scale: 1e6, accrual: 1, followUp: 1 };
    expect(unitsNeeded(trial)).toMatchObject({
      units: null,
      reason: "in the time that they are followed next to no units would fail",
    });
  });

  it("refuses lives that can't be", () => {
    expect(() => failureChance({ shape: 0, scale: 1, accrual: 1, followUp: 1 })).toThrow("found shape 0");
    expect(() => failureChance({ shape: 1, scale: 1, accrual: -1, followUp: 1 })).toThrow(RangeError);
    expect(() => failureChance({ shape: 1, scale: 1, accrual: 1, followUp: Number.POSITIVE_INFINITY })).toThrow(
      RangeError,
    );
  });
});
