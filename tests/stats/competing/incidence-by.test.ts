import { describe, expect, it } from "vitest";
import { incidenceBy } from "../../../src/stats/competing/incidence-by.ts";
import { expectAgreement } from "../../agree.ts";

/** `causes[i]`: 1 and up of a cause, 0 where the life was followed so far without an end. */
function lives(time: number[], causes: number[]) {
  return {
    time: Float64Array.from(time),
    failed: Uint8Array.from(causes, (cause) => Number(cause > 0)),
    cause: Int32Array.from(causes, (cause) => cause - 1),
  };
}

const asked = { cause: 0, causes: 2, age: 90, level: 0.95 };

describe("incidenceBy", () => {
  // R 4 survival: s <- summary(survfit(Surv(t, factor(e, 0:2)) ~ 1), times = 90); share s$pstate[2], error s$std.err[2];
  // limits by hand from n = p (1 - p) / se^2 in Wilson's formula
  it("follows competing ends and lives of short follow-up as R's multi-state curve does", () => {
    const time = [5, 12, 20, 20, 33, 41, 60, 77, 90, 95, 120, 15, 28, 50, 88, 90, 100, 130, 64, 72];
    const ends = [1, 2, 1, 0, 2, 0, 1, 0, 1, 0, 0, 0, 2, 1, 0, 0, 0, 1, 0, 2];
    const found = incidenceBy(lives(time, ends), asked);
    expectAgreement(found.estimate, 0.315925925925926, { rel: 1e-9 });
    if (found.estimate === null) return;
    expectAgreement(found.low, 0.138406205975, { rel: 1e-8 });
    expectAgreement(found.high, 0.570397757507, { rel: 1e-8 });
  });

  // R: prop.test(x, n, correct = FALSE)$conf.int
  it.each([
    { back: 3, of: 40, low: 0.0258360257746, high: 0.1986423352431 },
    { back: 0, of: 25, low: 0, high: 0.133192250939 },
  ])("is Wilson's share where all $of lives are followed", ({ back, of, low, high }) => {
    const ends = Array.from({ length: of }, (_, life) => Number(life < back));
    const found = incidenceBy(
      lives(
        ends.map((end) => (end === 1 ? 30 : 400)),
        ends,
      ),
      asked,
    );
    expectAgreement(found.estimate, back / of, { rel: 1e-12, abs: 1e-15 });
    if (found.estimate === null) return;
    expectAgreement(found.low, low, { rel: 1e-9, abs: 1e-15 });
    expectAgreement(found.high, high, { rel: 1e-9 });
  });

  it("counts an end on the day itself, and none after it", () => {
    expect(incidenceBy(lives([90, 90.1, 200, 200], [1, 1, 0, 0]), asked).estimate).toBe(0.25);
  });

  it("knows nothing where no life was followed so far, and all where all had ended", () => {
    expect(incidenceBy(lives([10, 20, 30], [1, 0, 0]), asked)).toEqual({
      estimate: null,
      reason: "none has been followed for 90",
    });
    expect(incidenceBy(lives([], []), asked).estimate).toBeNull();
    expect(incidenceBy(lives([10, 20, 30, 40], [1, 1, 2, 2]), asked).estimate).toBeCloseTo(0.5, 12);
  });

  it("lets planned ends compete: 1 less the survival of failures alone would be more", () => {
    // By hand: 4 lives, a planned end at 10, a failure at 20: 3/4 * 1/3 = 1/4; with planned ends as mere suspensions 1/3.
    expect(incidenceBy(lives([10, 20, 100, 100], [2, 1, 0, 0]), asked).estimate).toBeCloseTo(0.25, 12);
  });

  it("refuses an age of none, a cause out of range, late entries", () => {
    expect(() => incidenceBy(lives([1], [1]), { ...asked, age: 0 })).toThrow(RangeError);
    expect(() => incidenceBy(lives([1], [1]), { ...asked, cause: 2 })).toThrow(RangeError);
    expect(() => incidenceBy({ ...lives([9], [1]), entry: Float64Array.of(3) }, asked)).toThrow(RangeError);
  });
});
