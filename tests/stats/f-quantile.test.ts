import { describe, expect, it } from "vitest";
import { fQuantile } from "../../src/stats/f-quantile.ts";
import { expectAgreement } from "../agree.ts";

describe("fQuantile", () => {
  // R 4.2.2: qf(p, above, below)
  it.each([
    { p: 0.025, above: 9, below: 18, value: 0.270162139362 },
    { p: 0.975, above: 9, below: 18, value: 2.929112493123 },
    { p: 0.95, above: 9, below: 18, value: 2.456281149159 },
    { p: 0.001, above: 9, below: 18, value: 0.110961848987 },
    { p: 0.025, above: 2, below: 1e4, value: 0.0253178720833 },
    { p: 0.5, above: 2, below: 1e4, value: 0.693195228082 },
    { p: 0.999, above: 2, below: 1e4, value: 6.9125291854932 },
    { p: 0.025, above: 1.5, below: 300, value: 0.00874948944771 },
    { p: 0.975, above: 1.5, below: 300, value: 4.23149427729128 },
  ])("is $value at $p with $above and $below degrees", ({ p, above, below, value }) => {
    expectAgreement(fQuantile(p, above, below), value, { rel: 1e-8 });
  });

  it("refuses what is no probability or number of degrees", () => {
    expect(() => fQuantile(1, 2, 3)).toThrow("found 1 with 2 and 3 degrees");
    expect(() => fQuantile(0.5, 0, 3)).toThrow(RangeError);
    expect(() => fQuantile(0.5, 1, Number.NaN)).toThrow(RangeError);
  });
});
