import { describe, expect, it } from "vitest";
import { expByTable } from "../../src/stats/table-exp.ts";

describe("expByTable", () => {
  it("is exp(x) to within 1e-15 of itself, over the whole range and close to 0", () => {
    for (const [reach, step] of [
      [709, 0.0173],
      [1, 0.0000731],
      [1e-8, 3.1e-12],
    ] as const) {
      let worst = 0;
      for (let x = -reach; x <= reach; x += step) worst = Math.max(worst, Math.abs(expByTable(x) / Math.exp(x) - 1));
      expect(worst).toBeLessThan(1e-15);
    }
  });

  it.each([0, -0, 700, -700, 745, -745, 1e9, -1e9, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NaN])(
    "is what Math.exp gives at %d",
    (x) => {
      expect(expByTable(x)).toBe(Math.exp(x));
    },
  );
});
