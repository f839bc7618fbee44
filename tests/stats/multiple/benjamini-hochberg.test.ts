import { describe, expect, it } from "vitest";
import { benjaminiHochberg } from "../../../src/stats/multiple/benjamini-hochberg.ts";
import { expectAgreement } from "../../agree.ts";

describe("benjaminiHochberg", () => {
  // W-FDR1: Benjamini & Hochberg 1995, J. R. Statist. Soc. B 57, 289, section 4
  const p = Float64Array.of(
    ...[0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459],
    ...[0.324, 0.4262, 0.5719, 0.6528, 0.759, 1],
  );
  // R 4.2.2: p.adjust(p, "BH")
  const adjusted = [
    ...[0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.063857, 0.063857, 0.0645, 0.0765],
    ...[0.486, 0.581182, 0.714875, 0.753231, 0.813214, 1],
  ];

  it("W-FDR1: adjusts fifteen tests; four are named at 5 %, three by dividing 5 % by 15", () => {
    const found = benjaminiHochberg(p);
    for (const [test, value] of adjusted.entries()) expectAgreement(found[test], value, { abs: 1e-6 });
    expect(found.filter((value) => value <= 0.05)).toHaveLength(4);
    expect(p.filter((value) => value <= 0.05 / 15)).toHaveLength(3);
  });

  it("keeps the order given, and leaves its input as it was", () => {
    const turned = p.slice().reverse();
    expect(benjaminiHochberg(turned)).toEqual(benjaminiHochberg(p).reverse());
    expect(turned).toEqual(p.slice().reverse());
  });

  it("has nothing to say of no tests, keeps one as it is, and refuses what is no p-value", () => {
    expect(benjaminiHochberg(new Float64Array(0))).toHaveLength(0);
    expect(benjaminiHochberg(Float64Array.of(0.03))).toEqual(Float64Array.of(0.03));
    expect(() => benjaminiHochberg(Float64Array.of(0.5, 1.1))).toThrow("found 1.1");
    expect(() => benjaminiHochberg(Float64Array.of(Number.NaN))).toThrow(RangeError);
  });
});
