import { describe, expect, it } from "vitest";
import { DRIVE, livesOf } from "./story.ts";

const fitted = { [DRIVE]: { fitted: true, condition: "failed" } };
const first = { removed_on: "2016-01-01", installed_on: "2016-01-11", hours_removed: 8000, slots: fitted };

describe("start of what was in the unit before its first card", () => {
  it.each([
    {
      case: "commissioning",
      unit: { commissioned_on: "2015-01-01" },
      expected: { start_on: "2015-01-01", start_marked: "commissioned", entry_days: 0, days: 365 },
    },
    {
      case: "a later rebuild known from outside",
      unit: { commissioned_on: "2010-01-01", last_rebuilt_on: "2015-10-03" },
      expected: { start_on: "2015-10-03", start_marked: "last_rebuilt", entry_days: 0, days: 90 },
    },
    {
      case: "that rebuild alone",
      unit: { last_rebuilt_on: "2015-10-03" },
      expected: { start_on: "2015-10-03", start_marked: "last_rebuilt", entry_days: 0, days: 90 },
    },
    {
      case: "commissioning, where the rebuild from outside is the card",
      unit: { commissioned_on: "2015-01-01", last_rebuilt_on: "2016-01-05" },
      expected: { start_marked: "commissioned", days: 365 },
    },
    {
      case: "commissioning after the records begin",
      recordsBegin: "2014-01-01",
      unit: { commissioned_on: "2015-01-01" },
      expected: { entry_days: 0, days: 365, left_out_days: null },
    },
    {
      case: "nothing: not known",
      unit: {},
      expected: {
        start_on: null,
        start_marked: null,
        status: "failed",
        stop_on: "2016-01-01",
        days: null,
        hours: null,
        left_out_days: "start_unknown",
        left_out_hours: "start_unknown",
      },
    },
    // It might have been rebuilt between 2010 and 2015
    {
      case: "commissioning before the records begin: not known",
      recordsBegin: "2015-01-01",
      unit: { commissioned_on: "2010-01-01" },
      expected: { days: null, left_out_days: "start_unknown", left_out_hours: "start_unknown" },
    },
    // Age at entry 2014-01-01 to 2015-01-01, 365 days; at the end 730
    {
      case: "a rebuild before the records begin: known age at entry",
      recordsBegin: "2015-01-01",
      unit: { commissioned_on: "2010-01-01", last_rebuilt_on: "2014-01-01" },
      expected: { start_on: "2014-01-01", entry_days: 365, days: 730, left_out_days: null },
    },
    {
      case: "a rebuild, but out again before the records begin",
      recordsBegin: "2016-06-01",
      unit: { last_rebuilt_on: "2014-01-01" },
      expected: { days: null, left_out_days: "before_records_begin" },
    },
    {
      case: "commissioning after the first card",
      unit: { commissioned_on: "2016-01-05" },
      expected: { days: null, left_out_days: "zero_or_negative_length" },
    },
  ])("$case", async ({ unit, expected, recordsBegin }) => {
    const { lives } = await livesOf(
      { units: [unit], cards: [first] },
      { asOf: "2017-01-01", ...(recordsBegin && { recordsBegin }) },
    );
    expect(lives[0]).toMatchObject({ build_number: 0, ...expected });
  });

  it("has its hours at entry by the meter: 2010-01-01 to 2016-01-01 at 8000 h, so 4 and 5 of 6 years in at their share", async () => {
    const { lives } = await livesOf(
      { units: [{ commissioned_on: "2010-01-01", last_rebuilt_on: "2014-01-01" }], cards: [first] },
      { recordsBegin: "2015-01-01", asOf: "2017-01-01" },
    );
    // 2191 days in all; 1461 to the rebuild, 1826 to the entry: 8000 x 1461 / 2191 = 5334.6, 8000 x 1826 / 2191 = 6667.3
    expect(lives[0]).toMatchObject({ entry_hours: 1332.7, hours: 2665.4, hours_estimated: true, left_out_hours: null });
  });

  it("counts only what came out of a unit of which nothing is known, not what may be in it still", async () => {
    const { lives } = await livesOf({ cards: [first] }, { slots: [DRIVE, "shaft_sleeve"], asOf: "2017-01-01" });
    expect(lives).toMatchObject([
      { slot: DRIVE, build_number: 0, left_out_days: "start_unknown" },
      { slot: DRIVE, build_number: 1 },
    ]);
  });

  it("counts every declared slot of a unit that was commissioned: 365 days of 2015", async () => {
    const { lives } = await livesOf(
      { units: [{ commissioned_on: "2015-01-01" }] },
      { slots: [DRIVE, "shaft_sleeve"], asOf: "2016-01-01" },
    );
    expect(lives).toMatchObject([
      { slot: DRIVE, days: 365, assumed_running: true },
      { slot: "shaft_sleeve", days: 365 },
    ]);
  });
});

describe("a card from before the records begin", () => {
  const cards = [{ removed_on: "2012-01-01", installed_on: "2012-01-11", slots: fitted }, first];

  it("starts a life of which the age is not known", async () => {
    const { lives } = await livesOf({ cards }, { recordsBegin: "2015-01-01", asOf: "2017-01-01" });
    expect(lives[1]).toMatchObject({ build_number: 1, left_out_days: "start_unknown" });
  });

  it("starts a left-truncated life where the unit list says that it was the last: 1086 days old at entry, 1451 at the end", async () => {
    const { lives } = await livesOf(
      { cards, units: [{ last_rebuilt_on: "2012-01-05" }] },
      { recordsBegin: "2015-01-01", asOf: "2017-01-01" },
    );
    // 2012-01-11 to 2015-01-01: 356 of 2012 + 365 + 365 = 1086; to 2016-01-01 365 more
    expect(lives[1]).toMatchObject({ start_on: "2012-01-11", entry_days: 1086, days: 1451, left_out_days: null });
  });
});
