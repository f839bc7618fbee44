import { describe, expect, it } from "vitest";
import { likelihoodCutOff, normalHalfWidth } from "../../src/stats/level.ts";
import { expectAgreement } from "../agree.ts";

describe("normalHalfWidth and likelihoodCutOff", () => {
  // R 4.2.2: qnorm((1 + level) / 2) and qchisq(level, 1)
  it.each([
    [0.95, 1.959963984540054, 3.841458820694124],
    [0.999, 3.290526731491926, 10.82756617066273],
  ])("at %d: %d and %d", (level, z, cutOff) => {
    expectAgreement(normalHalfWidth(level), z, { rel: 1e-12 });
    expectAgreement(likelihoodCutOff(level), cutOff, { rel: 1e-12 });
  });

  it("refuse a level given as a percentage", () => {
    expect(() => normalHalfWidth(95)).toThrow("the level must lie in (0, 1), found 95");
    expect(() => likelihoodCutOff(0)).toThrow(RangeError);
  });
});
