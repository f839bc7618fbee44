import { describe, expect, it } from "vitest";
import { assumedShapeBounds, type BoundLevel } from "../../../src/stats/assumed-shape/bounds.ts";
import { boundsByShape } from "../../../src/stats/assumed-shape/bounds-by-shape.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const L10 = { kind: "quantile", p: 0.1 } as const;
const SCALE = { kind: "scale" } as const;
const oneSided = (level: number): BoundLevel => ({ level, sides: 1 });
const published = new PublishedCase("14_fixed_shape_bounds");
const hours = published.numbers("hours");
const FAILING = [7330, 10_040];

/** The case's lives with as many failed as `failures` says. */
function fleet(failures: number) {
  const failed = Uint8Array.from(hours, (age) => (FAILING.slice(0, failures).includes(age) ? 1 : 0));
  return { time: hours, failed };
}

describe("assumedShapeBounds", () => {
  const { rows, tolerance } = published.table("bounds");
  it.each(rows)("case 14 (Nelson 1985; R's qchisq): shape $shape, $r failures, confidence $confidence", (row) => {
    const lives = fleet(row["r"]!);
    const of = (quantity: Parameters<typeof assumedShapeBounds>[2]) =>
      assumedShapeBounds(lives, row["shape"]!, quantity, oneSided(row["confidence"]!));
    const scale = of(SCALE);
    for (const [found, name] of [
      [scale.estimate, "scale_mle"],
      [scale.low, "scale_lower"],
      [scale.high, "scale_upper"],
      [of(L10).low, "L10_lower"],
      [of({ kind: "survival", time: 8760 }).low, "survival_8760_lower"],
    ] as const) {
      const expected = row[name] ?? null;
      if (expected === null) expect(found, name).toBeNull();
      else expectAgreement(found, expected, tolerance, name);
    }
    expect(scale.failures).toBe(row["r"]);
    expect(scale.reason).toBe(row["r"] === 0 ? "there are no failures: only a lower bound exists" : undefined);
  });

  it("W-HPP1: at shape 1 the mean of 2 failures in 800 h, 90 %: 127 to 2251 h (NIST/SEMATECH e-Handbook 8.4.5.1)", () => {
    const lives = { time: Float64Array.of(500, 300), failed: Uint8Array.of(1, 1) };
    const mean = assumedShapeBounds(lives, 1, { kind: "mean" }, { level: 0.9, sides: 2 });
    expectAgreement(mean.estimate, 400, { rel: 1e-12 });
    expectAgreement(mean.low, 127, { abs: 1 });
    expectAgreement(mean.high, 2251, { abs: 1 });
  });

  it.each([1, 2] as const)("W-HPP1: 10 000 h without failure, 95 %: 3338 h, %d-sided alike", (sides) => {
    const lives = { time: Float64Array.of(10_000), failed: Uint8Array.of(0) };
    const mean = assumedShapeBounds(lives, 1, { kind: "mean" }, { level: 0.95, sides });
    expectAgreement(mean.low, 3338, { abs: 1 });
    expect(mean).toMatchObject({ estimate: null, high: null });
  });

  it("takes the time before entry off, and a row as often as its count", () => {
    // By hand, shape 2: 2 * (3000^2 - 1000^2) + 4000^2 = 32e6, one failure: 5656.85.
    const lives = {
      time: Float64Array.of(3000, 4000, 9999),
      failed: Uint8Array.of(0, 1, 1),
      entry: Float64Array.of(1000, 0, 0),
      count: Float64Array.of(2, 1, 0),
    };
    const found = assumedShapeBounds(lives, 2, SCALE, oneSided(0.9));
    expectAgreement(found.estimate, Math.sqrt(32e6), { rel: 1e-12 });
    expect(found.failures).toBe(1);
  });

  it("stays exact for 10,000 failures (R: 2e6 / qchisq(0.975, 20002), 2e6 / qchisq(0.025, 20000))", () => {
    const lives = { time: Float64Array.of(100), failed: Uint8Array.of(1), count: Float64Array.of(10_000) };
    const found = assumedShapeBounds(lives, 1, SCALE, { level: 0.95, sides: 2 });
    expectAgreement(found.low, 98.0589079852, { rel: 1e-10 });
    expectAgreement(found.high, 101.989275658, { rel: 1e-10 });
  });

  it("keeps its digits where an entry is all but the end of its life", () => {
    // By hand: the derivative of t^2 at 1e6 over one millionth of an hour, 2e6 * 1e-6 = 2; one failure.
    const lives = { time: Float64Array.of(1e6 + 1e-6), failed: Uint8Array.of(1), entry: Float64Array.of(1e6) };
    expectAgreement(assumedShapeBounds(lives, 2, SCALE, oneSided(0.9)).estimate, Math.sqrt(2), { rel: 1e-4 });
  });

  it.each([1e-6, 1e9])("goes with the unit of the ages: times %d", (unit) => {
    const lives = { time: hours.map((age) => age * unit), failed: fleet(2).failed };
    const scaled = assumedShapeBounds(lives, 3, L10, oneSided(0.9));
    const plain = assumedShapeBounds(fleet(2), 3, L10, oneSided(0.9));
    for (const end of ["estimate", "low", "high"] as const) {
      expectAgreement(scaled[end], plain[end]! * unit, { rel: 1e-12 });
    }
  });

  const farOut = [1e-4, 1e-2, 300, 1e6].flatMap((shape) => [0, 1, 2].map((failures) => [shape, failures] as const));
  it.each(farOut)("says no more than it knows: shape %d, %d failures", (shape, failures) => {
    const found = assumedShapeBounds(fleet(failures), shape, { kind: "mean" }, oneSided(0.9));
    const ends = [found.estimate, found.low, found.high];
    expect(ends.every((end) => end === null || Number.isFinite(end))).toBe(true);
    expect(found.reason ?? "").toMatch(ends.includes(null) ? /no failures|too far out/ : /^$/);
  });

  it("has a reason where there is nothing to bound", () => {
    const none = { low: null, estimate: null, high: null };
    const of = (lives: Parameters<typeof assumedShapeBounds>[0]) => assumedShapeBounds(lives, 2, SCALE, oneSided(0.9));
    expect(of({ time: new Float64Array(0), failed: new Uint8Array(0) })).toMatchObject({
      ...none,
      reason: "nothing was watched",
    });
    expect(of({ time: Float64Array.of(0, 5), failed: Uint8Array.of(1, 0) })).toMatchObject({
      ...none,
      reason: "1 life is of length 0",
    });
    const lateOnly = { time: Float64Array.of(5), failed: Uint8Array.of(1), entry: Float64Array.of(5) };
    expect(of(lateOnly)).toMatchObject({ ...none, reason: "1 life is over before coming under observation" });
    const within = { low: Float64Array.of(0, 10), high: Float64Array.of(7, Number.POSITIVE_INFINITY) };
    expect(of(within)).toMatchObject({
      ...none,
      reason: "1 failure is known only to lie within an interval, and bounds with an assumed shape need ages",
    });
  });

  it("refuses shapes, levels and numbers outside their range", () => {
    expect(() => assumedShapeBounds(fleet(0), 0, L10, oneSided(0.9))).toThrow("the shape assumed must be above 0");
    expect(() => assumedShapeBounds(fleet(0), 2, L10, oneSided(1))).toThrow("the level must lie in (0, 1)");
    expect(() => assumedShapeBounds(fleet(0), 2, { kind: "quantile", p: 0 }, oneSided(0.9))).toThrow("p must be in");
    expect(() => assumedShapeBounds(fleet(0), 2, { kind: "survival", time: -1 }, oneSided(0.9))).toThrow(
      "the age must",
    );
  });

  it("covers as it says: one-sided 90 % lower bounds hold in 90 % of failure-stopped sets, seed 14", () => {
    // The 2 r degrees are exact where the last failure ends the test; 2 r + 2 then covers more than its level.
    let upperHolds = 0;
    let lowerHolds = 0;
    const sets = 2000;
    for (let set = 0; set < sets; set++) {
      const stream = streamOf(14, set);
      const drawn = Float64Array.from({ length: 8 }, () => 1000 * (-Math.log1p(-stream.uniform())) ** (1 / 2)).sort();
      const time = drawn.map((age) => Math.min(age, drawn[2]!));
      const failed = Uint8Array.from(drawn, (age) => (age <= drawn[2]! ? 1 : 0));
      const found = assumedShapeBounds({ time, failed }, 2, SCALE, oneSided(0.9));
      if (found.high! >= 1000) upperHolds++;
      if (found.low! <= 1000) lowerHolds++;
    }
    // Three standard errors of a share of 0.9 in 2000: 0.02.
    expectAgreement(upperHolds / sets, 0.9, { abs: 0.02 });
    expect(lowerHolds / sets).toBeGreaterThan(0.9);
  });
});

describe("boundsByShape", () => {
  it("gives a row for each shape, in order (case 14, confidence 0.9, no failures)", () => {
    const rows = boundsByShape(fleet(0), [1, 2, 3], SCALE, oneSided(0.9));
    expect(rows.map(({ shape }) => shape)).toEqual([1, 2, 3]);
    expectAgreement(rows[1]?.low, 17096.0203195, { rel: 1e-9 });
    expect(boundsByShape(fleet(0), [], SCALE, oneSided(0.9))).toEqual([]);
  });
});
