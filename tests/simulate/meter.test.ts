import { describe, expect, it } from "vitest";
import type { Stay, Unit } from "../../src/simulate/history.ts";
import { hoursOn, type MeterSpan, shownHours } from "../../src/simulate/meter.ts";

const span = (given: Partial<MeterSpan>): MeterSpan => ({ from: 0, hours: 0, shown: 0, stuckFrom: null, ...given });

describe("shownHours()", () => {
  it.each([
    { name: "the hours run", spans: [span({})], day: 9, hours: 123.44, shown: 123.4 },
    {
      name: "what is left after the rollover at 100000",
      spans: [span({ shown: 99_990 })],
      day: 9,
      hours: 25.5,
      shown: 15.5,
    },
    { name: "where a stuck meter stood", spans: [span({ stuckFrom: 100 })], day: 9, hours: 250, shown: 100 },
    {
      name: "what was run under a new meter",
      spans: [span({}), span({ from: 5, hours: 80 })],
      day: 5,
      hours: 95.2,
      shown: 15.2,
    },
    {
      name: "the old meter the day before",
      spans: [span({}), span({ from: 5, hours: 80 })],
      day: 4,
      hours: 80,
      shown: 80,
    },
  ])("shows $name", ({ spans, day, hours, shown }) => {
    expect(shownHours(spans, day, hours)).toBe(shown);
  });

  it("refuses a day before the meter was on the frame", () => {
    expect(() => shownHours([span({ from: 3 })], 2, 0)).toThrow(RangeError);
  });
});

describe("hoursOn()", () => {
  const unit = { hoursADay: 10, idle: [] as Unit["idle"] } as Unit;
  const stay = (given: Partial<Stay>): Stay => ({ unit, ends: "failure", ...given }) as Stay;
  const stays = [
    stay({ installedOn: 10, removedOn: 20, hoursInstalled: 0, hoursRemoved: 95 }),
    stay({ installedOn: 30, removedOn: 50, hoursInstalled: 95, hoursRemoved: 295, ends: "running" }),
  ];
  it.each([
    { day: 9, hours: null, source: "not in service yet" },
    { day: 15, hours: 50, source: "5 days of 10 h" },
    { day: 25, hours: 95, source: "in the shop: what it had when it was taken out" },
    { day: 50, hours: 295, source: "95 and 20 days of 10 h" },
  ])("gives $hours on day $day ($source)", ({ day, hours }) => {
    expect(hoursOn(stays, day)).toBe(hours);
  });
});
