import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { distinctCounter, inOrder, rowsByGroup } from "../../src/questions/rows-by-group.ts";

describe("rowsByGroup", () => {
  it("gives the same groups in the same order however the rows come", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 3 }), { maxLength: 40 }).chain((groups) =>
          fc.record({
            groups: fc.constant(groups),
            rows: fc.shuffledSubarray([...groups.keys()], { minLength: groups.length, maxLength: groups.length }),
          }),
        ),
        ({ groups, rows }) => {
          const group = Int32Array.from(rows, (row) => groups[row]!);
          const number = Int32Array.from(rows);
          const { order, from } = rowsByGroup(group, number, 4);
          const found = inOrder(number, order);
          const wanted = [0, 1, 2, 3].map((one) => [...groups.keys()].filter((row) => groups[row] === one));
          expect([0, 1, 2, 3].map((one) => [...found.subarray(from[one]!, from[one + 1]!)])).toEqual(wanted);
        },
      ),
    );
  });

  it("moves nothing that is in order", () => {
    const { order, from } = rowsByGroup(Int32Array.of(0, 0, 2), Int32Array.of(5, 9, 1), 3);
    expect(order).toBeNull();
    expect([...from]).toEqual([0, 2, 2, 3]);
  });
});

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
