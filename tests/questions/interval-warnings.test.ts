import { describe, expect, it } from "vitest";
import type { Basis } from "../../src/questions/answer.ts";
import { intervalWarning, intervalWarnings } from "../../src/questions/interval-warnings.ts";

const groupOf = (intervalCensored: number, failed: number) => {
  const basis: Basis = { lives: 100, failed, suspended: 100 - failed, running: 0, unknown: 0, leftOut: {} };
  return { intervalCensored, basis };
};

describe("intervalWarning()", () => {
  it("says how many failures are known by an interval only, what is refused and what works", () => {
    expect(intervalWarning(groupOf(3, 40))).toBe(
      "3 of 40 failures are known by an interval only: a Kaplan-Meier curve and points on Weibull paper need exact ages and are left out; the Weibull fit and the Turnbull curve take both",
    );
    expect(intervalWarning(groupOf(1, 1))).toMatch(/^1 of 1 failure is known by an interval only/);
    expect(intervalWarning(groupOf(0, 40))).toBeNull();
  });
});

describe("intervalWarnings()", () => {
  it("counts the groups that have such failures, and the failures of those alone", () => {
    const said = intervalWarnings([groupOf(3, 40), groupOf(0, 50), groupOf(2, 10)], "slot");
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/^in 2 of 3 slots 5 of 50 failures are known by an interval only: /);
  });

  it("says nothing where every failure is exact", () => {
    expect(intervalWarnings([groupOf(0, 40)], "slot")).toEqual([]);
  });
});
