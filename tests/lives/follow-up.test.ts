import { describe, expect, it } from "vitest";
import { DRIVE, livesOf, type Story } from "./story.ts";

const fitted = { [DRIVE]: { fitted: true, condition: "failed" } };
const other = { unit: "F2", commissioned_on: "2018-01-01" };

describe("follow-up of a running life", () => {
  it.each([
    {
      case: "a list of units in service",
      story: { units: [{ listed_on: "2019-06-01" }] },
      stop: "2019-06-01",
      days: 516,
    },
    {
      case: "the last meter round",
      story: {
        readings: [
          { read_on: "2018-02-10", hours: 10 },
          { read_on: "2018-04-11", hours: 900 },
        ],
      },
      stop: "2018-04-11",
      days: 100,
    },
    {
      case: "the later of list and round",
      story: { units: [{ listed_on: "2018-03-01" }], readings: [{ read_on: "2018-04-11", hours: 900 }] },
      stop: "2018-04-11",
      days: 100,
    },
    {
      case: "a list up to 31 days after the as-of date, as proof for that date",
      story: { units: [{ listed_on: "2020-01-20" }] },
      stop: "2020-01-01",
      days: 730,
    },
  ] satisfies { case: string; story: Story; stop: string; days: number }[])(
    "ends with $case: $days days from 2018-01-01",
    async ({ story, stop, days }) => {
      const { lives } = await livesOf(
        { ...story, cards: [{ removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted }] },
        { asOf: "2020-01-01" },
      );
      const running = { status: "running", assumed_running: false, stop_on: stop, days, last_seen_days: days };
      expect(lives.at(-1)).toMatchObject(running);
    },
  );

  it("ends suspended with the unit's retirement, whatever is dated later: 59 days from 2018-01-01 to 2018-03-01", async () => {
    const { lives, installations } = await livesOf(
      {
        cards: [{ removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted }],
        units: [{ listed_on: "2018-02-01" }],
        retirements: [{ retired_on: "2018-03-01", cause: "scrapped" }],
      },
      { asOf: "2020-01-01" },
    );
    expect(lives.at(-1)).toMatchObject({
      status: "suspended",
      stop_on: "2018-03-01",
      days: 59,
      assumed_running: false,
      stop_file: 4,
      stop_row: 2,
    });
    expect(installations.at(-1)).toMatchObject({ ends: "end", stop_on: "2018-03-01", days: 59 });
  });

  it("takes no notice of a retirement before the unit's last card", async () => {
    const { lives } = await livesOf(
      {
        cards: [{ removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted }],
        retirements: [{ retired_on: "2016-03-01" }],
      },
      { asOf: "2018-01-11" },
    );
    expect(lives.at(-1)).toMatchObject({ status: "running", stop_on: "2018-01-11", days: 10, assumed_running: true });
  });

  it("is left out where the fleet has a list that the unit is not on and the unit is never read", async () => {
    const { lives, installations } = await livesOf(
      {
        cards: [{ removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted }],
        units: [{ ...other, listed_on: "2019-01-01" }, { commissioned_on: "2016-12-01" }],
      },
      { asOf: "2020-01-01" },
    );
    expect(lives.filter((life) => life["unit"] === "F1")).toMatchObject([
      { status: "failed", days: 365, left_out_days: null },
      {
        status: "running",
        days: null,
        stop_on: null,
        last_seen_days: null,
        left_out_days: "no_follow_up",
        left_out_hours: "no_follow_up",
      },
    ]);
    expect(installations.filter((build) => build["unit"] === "F1").at(-1)).toMatchObject({
      ends: "end",
      stop_days: null,
      left_out_days: "no_follow_up",
    });
  });

  it("is assumed where there is neither list nor round: to the as-of date, nothing seen after the start", async () => {
    const { lives, installations } = await livesOf(
      { cards: [{ removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted }] },
      { asOf: "2020-01-01" },
    );
    const assumed = {
      stop_on: "2020-01-01",
      days: 730,
      assumed_running: true,
      last_seen_days: null,
      last_seen_hours: null,
    };
    expect(lives.at(-1)).toMatchObject({ status: "running", ...assumed });
    expect(installations).toMatchObject([{ ends: "end", ...assumed }]);
  });

  it("is not told by a list long after the as-of date, which names survivors alone", async () => {
    const { lives } = await livesOf(
      {
        cards: [{ removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted }],
        units: [{ listed_on: "2024-01-01" }],
      },
      { asOf: "2020-01-01" },
    );
    expect(lives.at(-1)).toMatchObject({ stop_on: "2020-01-01", assumed_running: true });
  });

  it("is assumed where the only list is older than the life", async () => {
    const { lives } = await livesOf(
      {
        cards: [{ removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted }],
        units: [{ listed_on: "2017-01-01" }],
      },
      { asOf: "2020-01-01" },
    );
    expect(lives.at(-1)).toMatchObject({ stop_on: "2020-01-01", assumed_running: true });
  });

  it("was last seen at the unit's latest card, where that is not its own: 365 days to 2019-01-01, back after 31 in the shop", async () => {
    const { lives } = await livesOf(
      {
        cards: [
          { removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted },
          {
            removed_on: "2019-01-01",
            installed_on: "2019-02-01",
            slots: { [DRIVE]: { fitted: false, condition: "serviceable" } },
          },
        ],
      },
      { asOf: "2020-01-01" },
    );
    // 730 days less 31 in the shop; seen until 2019-02-01, of which 396 - 31 in service
    expect(lives.at(-1)).toMatchObject({
      start_on: "2018-01-01",
      days: 699,
      assumed_running: true,
      last_seen_days: 365,
    });
  });

  it.each([
    {
      what: "only built, where the fleet tells installations",
      last: { built_on: "2019-03-01" },
      read: null,
      running: 0,
    },
    { what: "still open", last: {}, read: null, running: 0 },
    { what: "only built, but read since", last: { built_on: "2019-03-01" }, read: "2019-06-01", running: 1 },
    { what: "installed", last: { installed_on: "2019-04-01" }, read: null, running: 1 },
  ])("starts with a last card that is $what: $running running", async ({ last, read, running }) => {
    const { lives, installations } = await livesOf(
      {
        cards: [
          { removed_on: "2017-12-01", installed_on: "2018-01-01", slots: fitted },
          { removed_on: "2019-02-01", ...last, slots: fitted },
        ],
        readings: read === null ? [] : [{ read_on: read, hours: 1 }],
      },
      { asOf: "2020-01-01" },
    );
    expect(lives.filter(({ status }) => status === "running")).toHaveLength(running);
    expect(installations.filter(({ ends }) => ends === "end")).toHaveLength(running);
  });

  it("goes on where meter rounds lapsed while cards went on: to stop survivors there would shorten every life", async () => {
    const { lives } = await livesOf(
      {
        units: [{ commissioned_on: "2017-01-01" }, { unit: "F2", commissioned_on: "2017-01-01" }],
        readings: [
          { read_on: "2017-06-01", hours: 100 },
          { unit: "F2", read_on: "2017-06-01", hours: 100 },
        ],
        cards: [{ unit: "F2", removed_on: "2019-01-01", installed_on: "2019-01-05", slots: fitted }],
      },
      { asOf: "2020-01-01" },
    );
    // By hand: F2 failed 580 days after the last round, so F1 is followed to 2020-01-01 and not to 2017-06-01: 1095 days; seen for 151
    expect(lives.find(({ unit }) => unit === "F1")).toMatchObject({
      stop_on: "2020-01-01",
      days: 1095,
      assumed_running: true,
      last_seen_days: 151,
    });
  });

  it("stops running days at the shop door while the unit is in the shop on the as-of date", async () => {
    const { lives, installations } = await livesOf(
      {
        units: [{ commissioned_on: "2017-12-01" }],
        cards: [
          {
            removed_on: "2018-01-01",
            installed_on: "2018-03-01",
            hours_removed: 300,
            slots: { [DRIVE]: { fitted: false, condition: "serviceable" } },
          },
        ],
      },
      { asOf: "2018-02-01" },
    );
    expect(lives).toMatchObject([{ status: "running", stop_on: "2018-02-01", days: 31, hours: 300 }]);
    expect(installations).toMatchObject([{ build_number: 0, ends: "unknown", days: 31, hours: 300 }]);
  });
});

describe("as-of date", () => {
  const story: Story = {
    units: [{ commissioned_on: "2016-01-01", listed_on: "2021-01-01" }],
    cards: [
      { removed_on: "2017-01-01", installed_on: "2017-02-01", hours_removed: 3660, slots: fitted },
      { removed_on: "2019-01-01", installed_on: "2019-02-01", hours_removed: 10000, slots: fitted },
    ],
    readings: [{ read_on: "2018-01-01", hours: 7000 }],
    retirements: [{ retired_on: "2022-01-01" }],
  };

  it("is the latest date in the records unless one is given", async () => {
    expect((await livesOf(story)).asOf).toBe("2022-01-01");
    expect((await livesOf(story, { asOf: "2018-06-01" })).asOf).toBe("2018-06-01");
  });

  it("replays the past: what was not yet recorded then does not count", async () => {
    const past = await livesOf(story, { asOf: "2018-06-01" });
    const records = {
      cards: story.cards?.slice(0, 1) ?? [],
      units: [{ commissioned_on: "2016-01-01" }], // the list of 2021 names who survived until then: no evidence for 2018
      readings: story.readings ?? [],
    };
    expect(past).toEqual(await livesOf(records, { asOf: "2018-06-01" }));
    expect(past.lives).toMatchObject([
      { status: "failed", days: 366 },
      { status: "running", stop_on: "2018-01-01", days: 334 }, // 2017-02-01 to the last round, 2018-01-01
    ]);
  });

  it("lets a card end lives but start none while the unit has not gone back", async () => {
    const { lives } = await livesOf(story, { asOf: "2019-01-15" });
    expect(lives).toMatchObject([
      { status: "failed" },
      { start_on: "2017-02-01", stop_on: "2019-01-01", status: "failed", days: 699 },
    ]);
  });

  it("knows nothing of a unit that comes later", async () => {
    const { lives } = await livesOf(
      { units: [{ commissioned_on: "2020-01-01", listed_on: "2021-01-01" }] },
      { asOf: "2019-01-01" },
    );
    expect(lives).toEqual([]);
  });

  it.each(["2019-02-30", "last week"])("refuses %s", async (asOf) => {
    await expect(livesOf(story, { asOf })).rejects.toThrow(`Cannot look at the records as of "${asOf}"`);
  });

  it("needs records", async () => {
    await expect(livesOf({}, { asOf: "2020-01-01" })).rejects.toThrow(
      "Cannot derive lives: no record in the store has a date",
    );
  });
});
