import { describe, expect, it } from "vitest";
import { changeAfter } from "../../src/questions/change-after.ts";

describe("changeAfter()", () => {
  it.each([
    // NIST SP 811: 1 in = 25.4 mm, so that 1 thou is 0.0254 mm; 0.13 / 0.0254 = 5.11811
    { rule: "own_unit", after: "0.13 mm", unit: "thou", is: "5.11811 thou" },
    { rule: "own_unit", after: "0.13 mm", unit: "mm", is: "0.13 mm" },
    { rule: "unit_mixup", after: "0.10159999999999999", unit: "thou", is: "4 thou" },
    { rule: "unit_mixup", after: "0.10159999999999999", unit: "mm", is: "0.1016 mm" },
    // NIST SP 811: t/degF = 1.8 t/degC + 32, so that 100 degC is 212 degF
    { rule: "own_unit", after: "100.0 C", unit: "F", is: "212 F" },
    { rule: "unit_mixup", after: "0.1016", unit: null, is: "0.1016" },
    { rule: "alias", after: "SM0227", unit: null, is: "SM0227" },
    { rule: "tidied", after: "7", unit: "mm", is: "7" },
    { rule: "correction", after: null, unit: "mm", is: null },
  ] as const)("$rule $after in $unit is $is", ({ rule, after, unit, is }) => {
    expect(changeAfter(rule, after, unit)).toBe(is);
  });
});
