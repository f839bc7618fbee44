import { describe, expect, it } from "vitest";
import { holm } from "../../../src/stats/multiple/holm.ts";
import { expectAgreement } from "../../agree.ts";

describe("holm", () => {
  // W-FDR1's fifteen: Benjamini & Hochberg 1995, J. R. Statist. Soc. B 57, 289, section 4
  const p = Float64Array.of(
    ...[0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459],
    ...[0.324, 0.4262, 0.5719, 0.6528, 0.759, 1],
  );
  // R 4.2.2: p.adjust(p, "holm")
  const adjusted = [0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278, 0.3213, 1, 1, 1, 1, 1, 1];

  it("adjusts fifteen tests, of which three stand at 5 %", () => {
    const found = holm(p);
    for (const [test, value] of adjusted.entries()) expectAgreement(found[test], value, { abs: 1e-9 });
    expect(found.filter((value) => value <= 0.05)).toHaveLength(3);
  });

  it("keeps the order given, keeps one as it is, and refuses what is no p-value", () => {
    expect(holm(p.slice().reverse())).toEqual(holm(p).reverse());
    expect([...holm(Float64Array.of(0.03))]).toEqual([0.03]);
    expect([...holm(new Float64Array(0))]).toEqual([]);
    expect(() => holm(Float64Array.of(0.1, Number.NaN))).toThrow(RangeError);
  });
});
