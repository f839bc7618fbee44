import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { labelledTally } from "../../src/stats/labelled-tally.ts";
import { wholeEnds } from "../../src/stats/whole-ends.ts";

const GROUPS = 3;

describe("wholeEnds", () => {
  it("counts as the general tally does, with groups and without", () => {
    const life = fc.record({
      age: fc.integer({ min: 0, max: 12 }).map((age) => age * 200),
      failed: fc.integer({ min: 0, max: 1 }),
      group: fc.integer({ min: 0, max: GROUPS - 1 }),
    });
    fc.assert(
      fc.property(fc.array(life, { minLength: 1200, maxLength: 1500 }), (lives) => {
        const time = Float64Array.from(lives, ({ age }) => age);
        const failed = Uint8Array.from(lives, (one) => one.failed);
        const group = Int32Array.from(lives, (one) => one.group);
        const label = group.map((own, at) => 2 * own + failed[at]!);
        const [plain, grouped] = [wholeEnds({ time, failed }), wholeEnds({ time, failed }, { group, groups: GROUPS })];
        expect(plain).toEqual(labelledTally({ values: time, label: failed, labels: 2 }));
        expect(grouped).toEqual(labelledTally({ values: time, label, labels: 2 * GROUPS }));
      }),
      { numRuns: 5, seed: 20261126 },
    );
  });

  it("makes room as ages rise", () => {
    const time = Float64Array.from({ length: 4000 }, (_, at) => at * 2);
    const failed = new Uint8Array(4000);
    expect(wholeEnds({ time, failed })?.value).toEqual(time);
    expect(wholeEnds({ time, failed }, { group: new Int32Array(4000), groups: GROUPS })?.value).toEqual(time);
  });

  const time = Float64Array.of(3, 0, 7);
  const failed = Uint8Array.of(1, 0, 1);
  const group = Int32Array.of(0, 1, 0);

  it.each([
    { what: "an age that is not whole", lives: { time: Float64Array.of(3, 0.5, 7), failed } },
    { what: "an age below 0", lives: { time: Float64Array.of(3, -1, 7), failed } },
    { what: "an age far below 0", lives: { time: Float64Array.of(3, -(2 ** 31), 7), failed } },
    { what: "an age that is no number", lives: { time: Float64Array.of(3, Number.NaN, 7), failed } },
    { what: "an age without end", lives: { time: Float64Array.of(3, Number.POSITIVE_INFINITY, 7), failed } },
    { what: "an age too large for a table", lives: { time: Float64Array.of(3, 2 ** 30, 7), failed } },
    { what: "an age beyond whole 32-bit numbers", lives: { time: Float64Array.of(3, 2 ** 32, 7), failed } },
    { what: "a flag above 1", lives: { time, failed: Uint8Array.of(1, 2, 1) } },
    { what: "flags of another length", lives: { time, failed: Uint8Array.of(1, 0) } },
    { what: "late entries", lives: { time, failed, entry: new Float64Array(3) } },
    { what: "counts", lives: { time, failed, count: Float64Array.of(1, 2, 3) } },
    { what: "a group out of range", lives: { time, failed }, group: Int32Array.of(0, 2, 0) },
    { what: "a group below 0", lives: { time, failed }, group: Int32Array.of(0, -1, 0) },
    { what: "groups of another length", lives: { time, failed }, group: Int32Array.of(0) },
  ])("leaves $what to others", ({ lives, group: own = group }) => {
    expect(wholeEnds(lives, { group: own, groups: 2 })).toBeNull();
  });

  it("counts no lives as none", () => {
    expect(wholeEnds({ time: new Float64Array(0), failed: new Uint8Array(0) })?.value.length).toBe(0);
  });
});
