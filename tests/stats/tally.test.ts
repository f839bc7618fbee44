import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { orderOf } from "../../src/stats/order.ts";
import { tally } from "../../src/stats/tally.ts";
import { ticksOf } from "../../src/stats/ticks.ts";

describe("ticksOf", () => {
  it("finds whole numbers and tenths, exactly", () => {
    expect(ticksOf(Float64Array.of(3, 7))).toEqual({ perUnit: 1, largest: 7 });
    expect(ticksOf(Float64Array.of(0.3, 1.1), Float64Array.of(12.7))).toEqual({ perUnit: 10, largest: 127 });
    expect(ticksOf(Float64Array.of(0.1 + 0.2))).toBeNull();
    expect(ticksOf(Float64Array.of(1.25))).toBeNull();
  });

  it("finds none where counting would take more room than the values", () => {
    expect(ticksOf(Float64Array.of(1e9))).toBeNull();
    expect(ticksOf(new Float64Array(500_000).fill(4_000_001))).toBeNull();
  });
});

const ages = fc.array(fc.oneof(fc.integer({ min: 0, max: 30 }), fc.double({ min: 0, max: 30, noNaN: true })), {
  maxLength: 40,
});
const wholeAges = fc.array(fc.integer({ min: 0, max: 30 }), { maxLength: 40 });

describe.each([
  ["mixed ages", ages],
  ["whole ages", wholeAges],
] as const)("%s", (_, arbitrary) => {
  it("orderOf sorts rows and keeps equal ones in their order", () => {
    fc.assert(
      fc.property(arbitrary, (values) => {
        const order = Array.from(orderOf(Float64Array.from(values)));
        const expected = Array.from(values.keys()).sort((a, b) => values[a]! - values[b]! || a - b);
        expect(order).toEqual(expected);
      }),
      { seed: 3 },
    );
  });

  it("tally counts what is flagged, by its count", () => {
    fc.assert(
      fc.property(arbitrary, (values) => {
        const column = Float64Array.from(values);
        const flags = Uint8Array.from(values, (_value, row) => row % 2);
        const count = Float64Array.from(values, (_value, row) => 1 + (row % 3));
        const found = tally({ values: column, count, flags, is: 1 }, ticksOf(column));
        const expected = new Map<number, number>();
        for (const row of orderOf(column)) {
          if (flags[row] === 1) expected.set(column[row]!, (expected.get(column[row]!) ?? 0) + count[row]!);
        }
        expect([...found.value].map((value, at) => [value, found.count[at]])).toEqual([...expected]);
      }),
      { seed: 4 },
    );
  });
});
