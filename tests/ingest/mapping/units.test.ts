import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stored, storedSql, type Unit, unitsOf } from "../../../src/ingest/mapping/units.ts";
import { openMemory } from "../../../src/store/open-memory.ts";
import { rows } from "../../../src/store/rows.ts";
import { MM_PER } from "../../../src/workspace/lengths.ts";

describe("stored()", () => {
  it.each([
    // NIST SP 811 (2008), appendix B.8: inch 2.54 E-02 m, mil 2.54 E-05 m, micron 1.0 E-06 m (exact)
    { value: 1, unit: "in", is: 25.4, within: 0 },
    { value: 1, unit: "thou", is: 0.0254, within: 0 },
    { value: 1, unit: "um", is: 0.001, within: 0 },
    { value: 15, unit: "0.01mm", is: 0.15, within: 0 }, // by hand: 15 / 100
    { value: 7, unit: "thou", is: 0.1778, within: 0 }, // by hand: 7 x 0.0254
    // NIST SP 811, appendix B.8: degree Fahrenheit to degree Celsius, t/degC = (t/degF - 32)/1.8
    { value: 212, unit: "F", is: 100, within: 0 },
    { value: 32, unit: "F", is: 0, within: 0 },
    { value: 213, unit: "F", is: 100.6, within: 0.05 }, // bearings are heated to about 213 F: common practice, no source
    // NIST SP 811, appendix B.8: pound-force 4.448 222 E+00 N
    { value: 1000, unit: "lbf", is: 4.448222, within: 5e-7 },
    { value: 1, unit: "d", is: 24, within: 0 },
    { value: 6, unit: "wk", is: 42, within: 0 },
  ] as { value: number; unit: Unit; is: number; within: number }[])(
    "takes $value $unit as $is",
    ({ value, unit, is, within }) => {
      expect(Math.abs(stored(value, unit) - is)).toBeLessThanOrEqual(within);
    },
  );

  it("does the same arithmetic as its SQL, to the last bit", async () => {
    const store = await openMemory();
    try {
      const values = [213, 7, 0.1, 4.5, 33.3, -12.25, 1e5 / 3];
      for (const unit of (["length", "temperature", "hours", "force", "days"] as const).flatMap((dimension) =>
        unitsOf(dimension),
      )) {
        const sql = values.map((value, index) => `${storedSql(`(${value}::double)`, unit)} as v${index}`).join(", ");
        const [row = {}] = await rows(store.connection, `select ${sql}`);
        expect(Object.values(row), unit).toEqual(values.map((value) => stored(value, unit)));
      }
    } finally {
      store.close();
    }
  });

  it("comes back from millimetres as it was written, however often it goes there and back", () => {
    const shown = (mm: number, unit: "thou" | "in" | "um") => Math.round((mm / MM_PER[unit]) * 1e6) / 1e6;
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 100_000 }),
        fc.constantFrom("thou" as const, "in" as const, "um" as const),
        (tenths, unit) => {
          const written = tenths / 10;
          let value = written;
          for (let round = 0; round < 100; round++) value = shown(stored(value, unit), unit);
          expect(value).toBe(written);
        },
      ),
      { seed: 811, numRuns: 500 },
    );
  });
});
