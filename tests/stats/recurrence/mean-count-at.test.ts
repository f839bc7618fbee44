import { describe, expect, it } from "vitest";
import { meanCumulativeFunction } from "../../../src/stats/recurrence/mean-count.ts";
import { meanCountAt } from "../../../src/stats/recurrence/mean-count-at.ts";
import { expectAgreement } from "../../agree.ts";
import { seats, valveSeats } from "./recurrent-cases.ts";

describe("meanCountAt", () => {
  const steps = meanCumulativeFunction(valveSeats(), { level: 0.95 });

  it("finds the published value and error of the valve seats at 550 days, between two steps", () => {
    const at = meanCountAt(steps, 550);
    for (const [name, found] of [
      ["estimate", at?.estimate],
      ["nelson_se", at?.seNelson],
    ] as const) {
      const { value, tolerance } = seats.value(`mcf_at_550.${name}`);
      expectAgreement(found, value, tolerance, name);
    }
  });

  it("finds each step at its own age, nothing before the first, the last for ever", () => {
    for (const step of steps) expect(meanCountAt(steps, step.time)).toBe(step);
    expect(meanCountAt(steps, 60.9)).toBeNull();
    expect(meanCountAt(steps, 1e9)).toBe(steps.at(-1));
    expect(meanCountAt([], 5)).toBeNull();
  });

  it("refuses an age that is none", () => {
    expect(() => meanCountAt(steps, Number.NaN)).toThrow("found NaN");
    expect(() => meanCountAt(steps, -1)).toThrow(RangeError);
  });
});
