import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hoursBetween, timeAfter } from "../../src/simulate/running-time.ts";

const unit = {
  hoursADay: 10,
  idle: [
    { from: 5, to: 8 },
    { from: 20, to: 21 },
  ],
};

describe("hoursBetween() and timeAfter()", () => {
  it.each([
    { from: 0, to: 4, hours: 40, source: "by hand: 4 days" },
    { from: 0, to: 10, hours: 70, source: "by hand: 10 days less 3 idle" },
    { from: 6, to: 7, hours: 0, source: "by hand: idle all the time" },
    { from: 7, to: 22, hours: 130, source: "by hand: 15 days less 1 and 1 idle" },
  ])("count $hours h from day $from to day $to ($source)", ({ from, to, hours }) => {
    expect(hoursBetween(unit, from, to)).toBe(hours);
  });

  it("lets a unit that stands idle start when it runs again", () => {
    expect(timeAfter(unit, 6, 5)).toBe(8.5);
  });

  it("are each other's inverse", () => {
    const spell = fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 40 }));
    fc.assert(
      fc.property(
        fc.array(spell),
        fc.integer({ min: 0, max: 200 }),
        fc.integer({ min: 1, max: 5000 }),
        (gaps, from, hours) => {
          let at = 0;
          const idle = gaps.map(([run, rest]) => {
            const spellFrom = at + run;
            at = spellFrom + rest;
            return { from: spellFrom, to: at };
          });
          const runs = { hoursADay: 13.7, idle };
          expect(Math.abs(hoursBetween(runs, from, timeAfter(runs, from, hours)) - hours)).toBeLessThan(1e-6);
        },
      ),
      { seed: 11 },
    );
  });
});
