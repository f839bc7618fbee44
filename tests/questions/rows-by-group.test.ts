import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { distinctCounter, orderInGroups } from "../../src/questions/rows-by-group.ts";

describe("orderInGroups", () => {
  it("puts stretches that came in another order", () => {
    const number = Int32Array.of(7, 8, 9, 1, 2, 5, 3, 4);
    const column = Float64Array.from(number);
    orderInGroups(Int32Array.of(0, 5, 8), number, [column]);
    expect([...number]).toEqual([1, 2, 7, 8, 9, 3, 4, 5]);
    expect([...column]).toEqual([1, 2, 7, 8, 9, 3, 4, 5]);
  });

  it("gives the same columns however the rows of each group come", () => {
    fc.assert(
      fc.property(fc.array(fc.nat({ max: 9 }), { maxLength: 5 }), fc.integer(), (sizes, seed) => {
        const from = Int32Array.from([0, ...sizes.map((_, at) => sizes.slice(0, at + 1).reduce((a, b) => a + b, 0))]);
        const order = sizes.flatMap((size, group) => shuffled(size, seed).map((row) => from[group]! + row));
        const number = Int32Array.from(order);
        const column = Float64Array.from(order, (row) => row / 8);
        const flags = Uint8Array.from(order, (row) => row % 2);
        orderInGroups(from, number, [column, flags]);
        expect([...number]).toEqual([...order.keys()]);
        expect([...column]).toEqual([...order.keys()].map((row) => row / 8));
        expect([...flags]).toEqual([...order.keys()].map((row) => row % 2));
      }),
    );
  });
});

/** 0 to size - 1 in an order that the seed gives. */
function shuffled(size: number, seed: number): number[] {
  const key = (row: number) => Math.sin(seed + 7919 * row);
  return [...Array(size).keys()].sort((one, other) => key(one) - key(other));
}

describe("distinctCounter", () => {
  it("counts what a set would hold, stretch by stretch", () => {
    const column = Int32Array.of(4, 4, 0, 7, 4, 7, 7);
    const distinct = distinctCounter(column);
    for (const [from, to] of [
      [0, 7],
      [0, 2],
      [3, 3],
      [2, 6],
    ] as const) {
      expect(distinct(from, to)).toBe(new Set(column.subarray(from, to)).size);
    }
  });
});
