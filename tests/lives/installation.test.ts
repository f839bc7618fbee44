import { describe, expect, it } from "vitest";
import { DRIVE, livesOf } from "./story.ts";

const fitted = { [DRIVE]: { fitted: true, condition: "failed" } };
const on = (day: string, rest: object = {}) => ({ removed_on: day, installed_on: day, slots: fitted, ...rest });

describe("installation", () => {
  it("is every build between two rebuilds, in the unit's own age since commissioning", async () => {
    const { installations } = await livesOf({
      units: [{ commissioned_on: "2015-01-01", listed_on: "2018-01-01", position: "P1" }],
      cards: [
        {
          removed_on: "2016-01-01",
          installed_on: "2016-01-31",
          hours_removed: 4000,
          reason: "failure",
          position: "P2",
          slots: fitted,
        },
        {
          removed_on: "2017-01-01",
          installed_on: "2017-01-11",
          hours_removed: 7000,
          reason: "planned",
          position: "P3",
          slots: {},
        },
      ],
      readings: [{ read_on: "2018-01-01", hours: 9000 }],
    });
    expect(installations).toMatchObject([
      {
        build_number: 0,
        position: "P1",
        card: null,
        ends: "failure",
        start_days: 0,
        stop_days: 365,
        days: 365,
        start_hours: 0,
        stop_hours: 4000,
        hours: 4000,
      },
      // Back at 395 days, out at 731, 336 days between
      {
        build_number: 1,
        position: "P2",
        card: "J1",
        ends: "planned",
        start_days: 395,
        stop_days: 731,
        days: 336,
        start_hours: 4000,
        stop_hours: 7000,
        hours: 3000,
      },
      {
        build_number: 2,
        position: "P3",
        card: "J2",
        ends: "end",
        start_days: 741,
        stop_days: 1096,
        days: 355,
        start_hours: 7000,
        stop_hours: 9000,
        hours: 2000,
      },
    ]);
    for (const build of installations)
      expect(build).toMatchObject({ entry_days: 0, entry_hours: 0, assumed_running: false, hours_estimated: false });
    expect(installations.map((build) => build["last_seen_days"])).toEqual([365, 731, 1096]);
    expect(installations.map((build) => build["last_seen_hours"])).toEqual([4000, 7000, 9000]);
  });

  it.each([
    ["failure", "failure"],
    ["planned", "planned"],
    ["opportunity", "planned"],
    ["modification", "planned"],
    ["unknown", "unknown"],
  ])("that a card with reason %s ends, ends %s", async (reason, ends) => {
    const { installations } = await livesOf({
      units: [{ commissioned_on: "2015-01-01" }],
      cards: [on("2016-01-01", { reason })],
    });
    expect(installations[0]).toMatchObject({ ends });
  });

  it("is observed from the first card on where commissioning is not known: that card is the start, no event", async () => {
    const { installations } = await livesOf({
      units: [{ listed_on: "2018-01-01" }],
      cards: [
        on("2016-01-01", { reason: "failure", hours_removed: 8000 }),
        on("2017-01-01", { reason: "failure", hours_removed: 9000 }),
      ],
    });
    expect(installations).toMatchObject([
      {
        build_number: 1,
        start_on: "2016-01-01",
        ends: "failure",
        entry_days: 0,
        start_days: 0,
        stop_days: 366,
        start_hours: 0,
        stop_hours: 1000,
      },
      {
        build_number: 2,
        start_on: "2017-01-01",
        ends: "end",
        entry_days: 0,
        start_days: 366,
        stop_days: 731,
        start_hours: 1000,
      },
    ]);
  });

  it("that began before the records is observed from their beginning, but is no time between rebuilds", async () => {
    const { installations } = await livesOf(
      {
        units: [{ commissioned_on: "2014-01-01" }],
        cards: [
          on("2016-01-01", { reason: "failure", hours_removed: 7300 }),
          on("2017-01-01", { reason: "failure", hours_removed: 9000 }),
        ],
      },
      { recordsBegin: "2015-01-01" },
    );
    expect(installations).toMatchObject([
      // 730 days at 10 h; the records begin at 365 days
      {
        ends: "failure",
        entry_days: 365,
        entry_hours: 3650,
        start_days: 0,
        stop_days: 730,
        stop_hours: 7300,
        days: null,
        hours: null,
        left_out_days: "start_unknown",
      },
      {
        ends: "failure",
        entry_days: 365,
        start_days: 730,
        stop_days: 1096,
        days: 366,
        hours: 1700,
        left_out_days: null,
      },
      { ends: "end" },
    ]);
  });

  it("has its own hours after a break of the meter, though no longer an age in hours", async () => {
    const { installations } = await livesOf({
      units: [{ commissioned_on: "2015-01-01" }],
      cards: [
        on("2016-01-01", { hours_removed: 4000 }),
        on("2016-06-01", { hours_removed: 100 }),
        on("2017-01-01", { hours_removed: 900 }),
      ],
    });
    expect(installations).toMatchObject([
      { stop_hours: 4000, hours: 4000 },
      { start_hours: 4000, stop_hours: null, hours: null, left_out_hours: "meter_went_back" },
      { start_hours: null, stop_hours: null, hours: 800, left_out_hours: null },
      {},
    ]);
  });

  it("that is the same for a commissioning dated after the first card: observed from that card on", async () => {
    const { installations } = await livesOf({
      units: [{ commissioned_on: "2016-06-01", listed_on: "2018-01-01" }],
      cards: [on("2016-01-01")],
    });
    expect(installations).toMatchObject([{ build_number: 1, start_days: 0, stop_days: 731 }]);
  });
});
