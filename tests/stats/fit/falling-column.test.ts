import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FallingColumn } from "../../../src/stats/fit/falling-column.ts";

describe("FallingColumn", () => {
  const step = fc.oneof(
    fc.constantFrom(0, 0, 0.5, 1e-9, 1e-17),
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.double({ min: 0, max: 1e-3, noNaN: true }),
  );

  it("finds what looking through the column finds, at its values too and beyond both ends", () => {
    fc.assert(
      fc.property(
        fc.array(step, { maxLength: 40 }),
        fc.array(fc.double({ min: -8, max: 1, noNaN: true })),
        (steps, any) => {
          let value = 1;
          const values = Float64Array.from(steps, (by) => {
            value -= by;
            return value;
          });
          const column = new FallingColumn(values);
          for (const wanted of [...any, ...values, 1, 0, -1]) {
            const expected = values.findIndex((one) => one < wanted);
            expect(column.firstBelow(wanted)).toBe(expected === -1 ? values.length : expected);
          }
        },
      ),
      { numRuns: 300, seed: 20261126 },
    );
  });
});
