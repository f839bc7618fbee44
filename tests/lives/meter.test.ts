import { describe, expect, it } from "vitest";
import { DRIVE, livesOf, type Story } from "./story.ts";

/**
 * A new component on 2015-01-01, out on 2016-01-01 (365 days later) at what the card shows, in again at once.
 * Commissioning at 0 h, so that the life's hours are what the meter ran in 2015.
 */
const year = (
  hours_removed: number | null,
  readings: Story["readings"] = [],
  hours_installed: number | null = null,
): Story => ({
  units: [{ commissioned_on: "2015-01-01", listed_on: "2016-12-31" }],
  cards: [
    {
      removed_on: "2016-01-01",
      installed_on: "2016-01-01",
      hours_removed,
      hours_installed,
      slots: { [DRIVE]: { fitted: true, condition: "failed" } },
    },
  ],
  readings,
});

const changed = { meter_changed: true };

describe("hours of a life", () => {
  it.each([
    { case: "the card's own meter, from 0 h at commissioning", story: year(4000), hours: 4000, estimated: false },
    { case: "snapped to a tenth", story: year(4000.26), hours: 4000.3, estimated: false },
    // 1000 h on day 100, 1900 h on day 400: 265 days at 3 h
    {
      case: "between two readings: 1000 + 265 x 3",
      story: year(null, [
        { read_on: "2015-04-11", hours: 1000 },
        { read_on: "2016-02-05", hours: 1900 },
      ]),
      hours: 1795,
      estimated: true,
    },
    // 300 h on day 30, 1200 h on day 120: 10 h a day since commissioning, 245 days on
    {
      case: "after the last reading: 1200 + 245 x 10",
      story: year(null, [
        { read_on: "2015-01-31", hours: 300 },
        { read_on: "2015-05-01", hours: 1200 },
      ]),
      hours: 3650,
      estimated: true,
    },
    {
      case: "a reading on the very day",
      story: year(null, [{ read_on: "2016-01-01", hours: 4000 }]),
      hours: 4000,
      estimated: false,
    },
    {
      case: "the card against a reading of the same day",
      story: year(4000, [{ read_on: "2016-01-01", hours: 3990 }]),
      hours: 4000,
      estimated: false,
    },
    // 5000 h on the old meter by day 200, the new one at 0 then and at 600 on the last day
    {
      case: "a changed meter, the old one read: 3000 + 600",
      story: year(600, [{ read_on: "2015-07-20", hours: 0, ...changed, old_meter_hours: 3000 }]),
      hours: 3600,
      estimated: false,
    },
    {
      case: "a changed meter read later, from its own 0: 3000 + 600",
      story: year(600, [{ read_on: "2015-07-20", hours: 50, ...changed, old_meter_hours: 3000 }]),
      hours: 3600,
      estimated: false,
    },
    // A second-hand meter at 20000 can't have run that since the last reading
    {
      case: "a changed meter that did not start at 0: 3000 + (20600 - 20000)",
      story: year(20600, [{ read_on: "2015-07-20", hours: 20000, ...changed, old_meter_hours: 3000 }]),
      hours: 3600,
      estimated: false,
    },
  ])("$case gives $hours h", async ({ story, hours, estimated }) => {
    const { lives } = await livesOf(story);
    expect(lives[0]).toMatchObject({ hours, hours_estimated: estimated, left_out_hours: null, days: 365 });
  });

  // Out on day 365; on the bench for 100 days; back with what the meter then shows, which it showed when it came out.
  const longStay = (
    hours_removed: number | null,
    hours_installed: number | null,
    read: NonNullable<Story["readings"]>,
  ): Story => ({
    units: [{ commissioned_on: "2015-01-01", listed_on: "2017-12-31" }],
    cards: [
      {
        removed_on: "2016-01-01",
        installed_on: "2016-04-10",
        hours_removed,
        hours_installed,
        slots: { [DRIVE]: { fitted: true, condition: "failed" } },
      },
      { removed_on: "2016-07-19", hours_removed: 5000, slots: { [DRIVE]: { fitted: true, condition: "failed" } } },
    ],
    readings: read,
  });

  it.each([
    { case: "its own reading when handed back", stay: longStay(null, 4000, []), hours: [4000, 1000], estimated: true },
    // 5000 h in 365 days before and 100 after the bench, none on it
    { case: "the next card alone", stay: longStay(null, null, []), hours: [3924.7, 1075.3], estimated: true },
    // 10 h a day to day 300, then 65 + 50 days in service up to the reading that shows 1150 h more
    {
      case: "readings before and after it",
      stay: longStay(null, null, [
        { read_on: "2015-10-28", hours: 3000 },
        { read_on: "2016-05-30", hours: 4150 },
      ]),
      hours: [3650, 1350],
      estimated: true,
    },
    // read on the bench: it had run to the day it came out, and no more
    {
      case: "a reading on the bench",
      stay: longStay(null, null, [{ read_on: "2016-02-15", hours: 3600 }]),
      hours: [3600, 1400],
      estimated: true,
    },
    { case: "the card's own reading", stay: longStay(4000, null, []), hours: [4000, 1000], estimated: false },
  ])("no meter runs on the bench: hours by $case", async ({ stay, hours, estimated }) => {
    const { lives } = await livesOf(stay);
    const ended = lives.filter(({ status }) => status === "failed");
    expect(ended.map((life) => life["hours"])).toEqual(hours);
    expect(ended.map((life) => life["days"])).toEqual([365, 100]);
    expect(ended[0]).toMatchObject({ hours_estimated: estimated, left_out_hours: null });
  });

  it("is carried on by days in service too: a stay on the bench does not make a unit run slower", async () => {
    // 3650 h in 365 days, 100 days on the bench, 500 h in 50 days: 10 h a day, so 1500 h in 150 days to the list
    const { lives } = await livesOf({
      units: [{ commissioned_on: "2015-01-01", listed_on: "2016-09-07" }],
      cards: [
        {
          removed_on: "2016-01-01",
          installed_on: "2016-04-10",
          slots: { [DRIVE]: { fitted: true, condition: "failed" } },
        },
      ],
      readings: [
        { read_on: "2015-12-31", hours: 3640 },
        { read_on: "2016-05-30", hours: 4150 },
      ],
    });
    expect(lives.map((life) => life["hours"])).toEqual([3650, 1500]);
  });

  it.each([
    { case: "no evidence", story: year(null), because: "no_meter" },
    {
      case: "a meter that showed more than can have been run: 9000 h by day 200 (at most 4824)",
      story: year(12000, [{ read_on: "2015-07-20", hours: 9000 }]),
      because: "no_meter_at_start",
    },
    {
      case: "a changed meter, the old one not read",
      story: year(600, [
        { read_on: "2015-05-01", hours: 1200 },
        { read_on: "2015-07-20", hours: 0, ...changed },
      ]),
      because: "meter_changed_unread",
    },
    {
      case: "a meter that went back",
      story: year(900, [{ read_on: "2015-07-20", hours: 3000 }]),
      because: "meter_went_back",
    },
    {
      case: "over 24 h a day: 3000 h in 31 days",
      story: year(5000, [
        { read_on: "2015-05-01", hours: 1000 },
        { read_on: "2015-06-01", hours: 4000 },
      ]),
      because: "impossible_rate",
    },
    {
      case: "a stuck meter: 1000 h on 2015-05-01, 2015-06-01 and 2015-07-01, 61 days",
      story: year(3000, [
        { read_on: "2015-05-01", hours: 1000 },
        { read_on: "2015-06-01", hours: 1000 },
        { read_on: "2015-07-01", hours: 1000 },
      ]),
      because: "meter_stuck",
    },
    {
      case: "too little evidence to carry on from: 29 days",
      story: year(null, [{ read_on: "2015-01-30", hours: 300 }]),
      because: "rate_unknown",
    },
    { case: "a unit that did not run", story: { ...year(0), readings: [] }, because: "meter_stuck" },
  ])("has none with $case: $because, and stays in days", async ({ story, because }) => {
    const { lives } = await livesOf(story);
    expect(lives[0]).toMatchObject({ hours: null, left_out_hours: because, days: 365, left_out_days: null });
  });

  it("takes 60 days without movement for a standstill: 1000 h on 2015-05-01 and 2015-06-30", async () => {
    const { lives } = await livesOf(
      year(3000, [
        { read_on: "2015-05-01", hours: 1000 },
        { read_on: "2015-06-30", hours: 1000 },
      ]),
    );
    expect(lives[0]).toMatchObject({ hours: 3000, left_out_hours: null });
  });

  it("does not take the shop for a stuck meter: out at 1000 h on 2015-05-01, back on 2015-12-01", async () => {
    const { lives } = await livesOf({
      units: [{ commissioned_on: "2015-01-01", listed_on: "2016-01-01" }],
      cards: [
        {
          removed_on: "2015-05-01",
          installed_on: "2015-12-01",
          hours_removed: 1000,
          slots: { [DRIVE]: { fitted: false } },
        },
      ],
      readings: [{ read_on: "2016-01-01", hours: 1300 }],
    });
    expect(lives).toMatchObject([{ hours: 1300, days: 151, left_out_hours: null }]); // 365 days less 214 in the shop
  });

  it.each([
    { at: 100_000, before: 99_500, after: 300, hours: 800 },
    { at: 100_000, before: 9_800, after: 200, hours: 400, case: "a four-figure meter" },
    { at: 1_000, before: 950, after: 50, hours: 100, case: "as the workspace says" },
    // Ten per cent below the top, and small after it
    { at: 100_000, before: 90_000, after: 10, hours: null },
    { at: 100_000, before: 89_999, after: 10, hours: null },
    { at: 100_000, before: 99_500, after: 20_000, hours: null },
  ])(
    "rolls over at the meter's top: $before, then $after of $at, gives $hours",
    async ({ at, before, after, hours }) => {
      const day = (on: string, rest: object) => ({
        removed_on: on,
        installed_on: on,
        slots: { [DRIVE]: { fitted: true, condition: "failed" } },
        ...rest,
      });
      const { lives } = await livesOf(
        {
          cards: [day("2015-01-01", { hours_removed: before }), day("2015-04-11", { hours_removed: after })],
          units: [{ listed_on: "2015-04-11" }],
        },
        { rolloverAt: at },
      );
      const because = hours === null ? "meter_went_back" : null;
      expect(lives[1]).toMatchObject({ start_on: "2015-01-01", hours, left_out_hours: because });
    },
  );

  it("goes on across a meter that the card itself changed: 4000 h, then 0 to 700", async () => {
    const story = year(4000, [{ read_on: "2016-04-10", hours: 700 }], 0);
    const { lives } = await livesOf({ ...story, units: [{ commissioned_on: "2015-01-01" }] });
    expect(lives.map((life) => life["hours"])).toEqual([4000, 700]);
    // The round after it may declare the same change once more
    const again = { read_on: "2016-04-10", hours: 700, ...changed };
    for (const reading of [again, { ...again, old_meter_hours: 4000 }]) {
      const told = await livesOf({ ...story, units: [{ commissioned_on: "2015-01-01" }], readings: [reading] });
      expect(told.lives.map((life) => life["hours"])).toEqual([4000, 700]);
    }
  });

  it("has hours on both sides of a break, none across it", async () => {
    const slots = { [DRIVE]: { fitted: true, condition: "failed" } };
    const { lives } = await livesOf({
      units: [{ commissioned_on: "2015-01-01" }],
      cards: [
        { removed_on: "2015-06-01", hours_removed: 1000, slots },
        { removed_on: "2015-12-01", hours_removed: 400, slots },
        { removed_on: "2016-06-01", hours_removed: 1500, slots },
      ],
      readings: [{ read_on: "2016-07-01", hours: 1600 }],
    });
    expect(lives.map((life) => life["hours"] ?? life["left_out_hours"])).toEqual([1000, "meter_went_back", 1100, 100]);
  });

  it("is carried to the end of follow-up at the unit's rate of the last 365 days, not of its youth", async () => {
    const { lives } = await livesOf({
      units: [{ commissioned_on: "2015-01-01", listed_on: "2018-02-10" }],
      // 20 h a day in 2015 and 2016 (731 days), 5 h a day in 2017
      readings: [
        { read_on: "2017-01-01", hours: 14620 },
        { read_on: "2018-01-01", hours: 14620 + 365 * 5 },
      ],
    });
    // 2018-01-01 to 2018-02-10: 40 days at 5 h
    expect(lives[0]).toMatchObject({ status: "running", hours: 14620 + 1825 + 200, hours_estimated: true });
  });

  it("is not reckoned for a start before the first evidence of a unit whose commissioning is not known", async () => {
    const slots = { [DRIVE]: { fitted: true, condition: "failed" } };
    const { lives } = await livesOf({
      cards: [
        { removed_on: "2015-01-01", slots },
        { removed_on: "2016-01-01", hours_removed: 4000, slots },
      ],
    });
    expect(lives[1]).toMatchObject({ hours: null, left_out_hours: "no_meter_at_start", days: 365 });
  });
});
