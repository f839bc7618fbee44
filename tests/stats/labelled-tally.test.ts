import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { labelledTally } from "../../src/stats/labelled-tally.ts";

describe("labelledTally", () => {
  it("counts by value and label, leaving out what counts for nothing (by hand)", () => {
    for (const unit of [1, Math.PI]) {
      const rows = {
        values: Float64Array.of(5, 2, 5, 2, 9).map((value) => value * unit),
        label: Int32Array.of(1, 0, 0, 0, 2),
        labels: 3,
        count: Float64Array.of(2, 1, 4, 3, 0),
      };
      expect(labelledTally(rows)).toEqual({
        value: Float64Array.of(2 * unit, 5 * unit),
        start: Uint32Array.of(0, 1, 3),
        label: Int32Array.of(0, 0, 1),
        count: Float64Array.of(4, 4, 2),
      });
    }
  });

  it("gives the same by counting and by sorting, with more labels than values too", () => {
    const row = fc.record({ value: fc.integer({ min: 0, max: 9 }), label: fc.integer({ min: 0, max: 2 }) });
    fc.assert(
      fc.property(fc.array(row, { maxLength: 30 }), (rows) => {
        const values = Float64Array.from(rows, ({ value }) => value);
        const label = Int32Array.from(rows, (one) => one.label);
        const counted = labelledTally({ values, label, labels: 3 });
        expect(labelledTally({ values, label, labels: 5000 })).toEqual(counted);
        const uneven = labelledTally({ values: values.map((value) => value / 3), label, labels: 3 });
        expect(uneven.count).toEqual(counted.count);
        expect(uneven.label).toEqual(counted.label);
      }),
      { numRuns: 100, seed: 20261126 },
    );
  });

  it("sorts where a table would take too much room", () => {
    const values = Float64Array.of(2 ** 31, 3, 2 ** 32);
    const counted = labelledTally({ values, label: new Uint8Array(values.length), labels: 1 });
    expect(counted.value).toEqual(Float64Array.of(3, 2 ** 31, 2 ** 32));
  });
});
