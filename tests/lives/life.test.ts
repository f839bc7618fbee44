import { describe, expect, it } from "vitest";
import { DRIVE, livesOf, SEALS } from "./story.ts";

// Every expected number in this folder is by hand; the arithmetic stands beside it.

const unit = { commissioned_on: "2015-01-01", listed_on: "2019-12-31" };
const card = (removed_on: string, installed_on: string, rest: Record<string, unknown> = {}) => ({
  removed_on,
  installed_on,
  ...rest,
});

describe("life", () => {
  it("runs from fitting to removal, shop time apart: 2015-01-01 to 2016-01-01 is 365 days, 2016-02-01 to 2017-02-01 is 366", async () => {
    const { lives } = await livesOf({
      units: [unit],
      cards: [
        card("2016-01-01", "2016-02-01", { slots: { [DRIVE]: { fitted: true, condition: "failed" } } }),
        card("2017-02-01", "2017-02-11", { slots: { [DRIVE]: { fitted: true, condition: "serviceable" } } }),
      ],
    });
    expect(lives).toMatchObject([
      { build_number: 0, card: null, start_on: "2015-01-01", stop_on: "2016-01-01", days: 365, status: "failed" },
      { build_number: 1, card: "J1", start_on: "2016-02-01", stop_on: "2017-02-01", days: 366, status: "suspended" },
      // 2017-02-11 to 2019-12-31: 323 + 365 + 365
      { build_number: 2, card: "J2", start_on: "2017-02-11", stop_on: "2019-12-31", days: 1053, status: "running" },
    ]);
    expect(lives.map((life) => life["start_marked"])).toEqual(["commissioned", "installed", "installed"]);
    expect(lives.map((life) => life["entry_days"])).toEqual([0, 0, 0]);
  });

  it.each([
    { found: { condition: "failed" }, status: "failed" },
    { found: { condition: "worn" }, status: "suspended" },
    { found: { condition: "worn" }, failedWhen: ["failed", "worn"] as const, status: "failed" },
    { found: { condition: "serviceable" }, status: "suspended" },
    { found: { condition: "serviceable", damage_mode: "indentation" }, status: "suspended" },
    { found: { damage_mode: "surface_fatigue" }, status: "failed" },
    { found: { condition: "not_inspected", damage_mode: "surface_fatigue" }, status: "failed" },
    { found: { condition: "not_inspected" }, status: "unknown" },
    { found: {}, status: "unknown" },
    { found: {}, failedSlot: DRIVE, status: "failed" },
    { found: {}, failedSlot: SEALS, status: "unknown" },
  ])(
    "ends $status where $found is found (failed when $failedWhen, the card names $failedSlot)",
    async ({ found, failedWhen, failedSlot, status }) => {
      const { lives } = await livesOf(
        {
          units: [unit],
          cards: [
            card("2016-01-01", "2016-02-01", {
              reason: "failure",
              failed_slot: failedSlot ?? null,
              slots: { [DRIVE]: { fitted: true, ...found } },
            }),
          ],
        },
        failedWhen ? { failedWhen: [...failedWhen] } : {},
      );
      expect(lives[0]).toMatchObject({ status, damage_mode: "damage_mode" in found ? found.damage_mode : null });
    },
  );

  it("goes on where nothing was fitted, less the days in the shop: 365 + 366 of 2015 and 2016 less 31", async () => {
    const { lives } = await livesOf(
      {
        units: [unit],
        cards: [
          card("2016-01-01", "2016-02-01", {
            slots: { [DRIVE]: { fitted: false, condition: "worn" }, [SEALS]: { condition: "serviceable" } },
          }),
          card("2017-01-01", "2017-02-01", { slots: { [DRIVE]: { fitted: true, condition: "failed" } } }),
        ],
      },
      { slots: [DRIVE, SEALS, "shaft_sleeve"] },
    );
    const first = lives.filter((life) => life["build_number"] === 0);
    expect(first).toMatchObject([
      { slot: DRIVE, stop_on: "2017-01-01", days: 700, status: "failed" },
      // To 2019-12-31: 1825 days since commissioning, less two stays of 31
      { slot: SEALS, stop_on: "2019-12-31", days: 1763, status: "running" },
      { slot: "shaft_sleeve", stop_on: "2019-12-31", days: null, left_out_days: "slot_on_no_card" },
    ]);
  });

  it.each([{ fitted: false }, { fitted: null }])(
    "ends failed where a component failed and none is recorded as fitted ($fitted); the next life is left out",
    async ({ fitted }) => {
      const { lives } = await livesOf({
        units: [unit],
        cards: [
          card("2016-01-01", "2016-02-01", { slots: { [DRIVE]: { fitted, condition: "failed" } } }),
          card("2017-01-01", "2017-02-01", { slots: { [DRIVE]: { fitted: true, condition: "failed" } } }),
        ],
      });
      expect(lives).toMatchObject([
        { status: "failed", days: 365, left_out_days: null },
        {
          status: "failed",
          days: null,
          hours: null,
          left_out_days: "replacement_not_recorded",
          left_out_hours: "replacement_not_recorded",
        },
        { status: "running", left_out_days: null },
      ]);
    },
  );

  it.each([
    {
      dates: {
        removed_on: "2016-01-01",
        received_on: "2016-01-05",
        built_on: "2016-01-20",
        installed_on: "2016-02-01",
      },
      out: "2016-01-01",
      back: "2016-02-01",
      marked: "installed",
    },
    {
      dates: { received_on: "2016-01-05", built_on: "2016-01-20" },
      out: "2016-01-05",
      back: "2016-01-20",
      marked: "built",
    },
    {
      dates: { built_on: "2016-01-20", installed_on: "2016-02-01" },
      out: "2016-01-20",
      back: "2016-02-01",
      marked: "installed",
    },
    { dates: { removed_on: "2016-01-01" }, out: "2016-01-01", back: "2016-01-01", marked: "removed" },
    { dates: { installed_on: "2016-02-01" }, out: "2016-02-01", back: "2016-02-01", marked: "installed" },
    // Put back before it was taken out: not believed
    {
      dates: { removed_on: "2016-01-10", built_on: "2016-01-20", installed_on: "2016-01-01" },
      out: "2016-01-10",
      back: "2016-01-20",
      marked: "built",
    },
  ])("takes what dates a card has: $dates", async ({ dates, out, back, marked }) => {
    const { lives } = await livesOf({ units: [unit], cards: [{ ...dates, slots: { [DRIVE]: { fitted: true } } }] });
    expect(lives[0]).toMatchObject({ stop_on: out });
    expect(lives[1]).toMatchObject({ start_on: back, start_marked: marked });
  });

  it("starts with what is known of the build, and says from which rows it comes", async () => {
    const { lives } = await livesOf(
      {
        units: [{ ...unit, position: "P7", site: "North", model: "M4", speed_rpm: 1450 }],
        cards: [
          card("2016-01-01", "2016-02-01", {
            built_on: "2015-12-30",
            lube: "oil_bath",
            seal_arrangement: "double",
            end_play_mm: 3 * 0.0254,
            shims_mm: 0.508,
            ring_temperature_c: 100,
            fitter: "F03",
            position: "P2",
            end_play_found_mm: 0.2,
            slots: {
              [DRIVE]: { fitted: true, part: "B-1", batch: "L9", condition: "failed", damage_mode: "indentation" },
            },
          }),
        ],
      },
      { bands: [2, 3, 7] },
    );
    expect(lives[0]).toMatchObject({
      position: "P7",
      site: "North",
      model: "M4",
      speed: 1450,
      end_play: null,
      end_play_band: null,
      lube: null,
      built_year: null,
      part: null,
      damage_mode: "indentation",
      start_file: 2,
      start_row: 2,
      stop_file: 1,
      stop_row: 2,
    });
    expect(lives[1]).toMatchObject({
      position: "P2",
      site: null,
      model: "M4",
      speed: 1450,
      end_play: 3,
      end_play_band: "3 to 7",
      lube: "oil_bath",
      seal_arrangement: "double",
      ring_temperature: 212,
      fitter: "F03",
      built_year: 2015,
      part: "B-1",
      batch: "L9",
      damage_mode: null,
      start_file: 1,
      start_row: 2,
      stop_file: 2,
      stop_row: 2,
    });
    // 0.508 mm / 0.0254
    expect(lives[1]?.["shims"]).toBeCloseTo(20, 9);
  });

  it.each([
    { thou: 1.9, band: "under 2" },
    { thou: 2, band: "2 to 3" },
    { thou: 2.999, band: "2 to 3" },
    { thou: 3, band: "3 to 7" },
    { thou: 7, band: "7 and over" },
    { thou: null, band: null },
  ])("puts an end play of $thou thou into the band $band", async ({ thou, band }) => {
    const end_play_mm = thou === null ? null : thou * 0.0254;
    const { lives } = await livesOf(
      {
        units: [unit],
        cards: [card("2016-01-01", "2016-02-01", { end_play_mm, slots: { [DRIVE]: { fitted: true } } })],
      },
      { bands: [2, 3, 7] },
    );
    expect(lives[1]).toMatchObject({ end_play: thou, end_play_band: band });
  });

  it("takes a slot told on two rows of a long card once, the worse condition counting", async () => {
    const { lives } = await livesOf({
      units: [unit],
      cards: [
        card("2016-01-01", "2016-02-01", {
          card: "A",
          row: 10,
          slots: { [DRIVE]: { fitted: true, condition: "serviceable", part: "B-1" } },
        }),
        card("2016-01-01", "2016-02-01", {
          card: "A",
          row: 11,
          slots: { [DRIVE]: { fitted: true, condition: "failed", part: "B-2" } },
        }),
      ],
    });
    expect(lives).toMatchObject([{ status: "failed" }, { status: "running", part: "B-1" }]);
  });

  it("leaves lives of no length out, and never makes a negative one", async () => {
    const { lives } = await livesOf({
      units: [unit],
      cards: [
        card("2016-01-01", "2016-06-01", { slots: { [DRIVE]: { fitted: true } } }),
        card("2016-03-01", "2016-03-01", { slots: { [DRIVE]: { fitted: true } } }),
        card("2016-03-01", "2016-03-01", { slots: { [DRIVE]: { fitted: true } } }),
      ],
    });
    expect(lives.map((life) => [life["days"], life["left_out_days"]])).toEqual([
      [365, null],
      [null, "zero_or_negative_length"], // back 2016-06-01, out again 2016-03-01
      [null, "zero_or_negative_length"], // 2016-03-01 to itself
      [1400, null], // 2016-03-01 to 2019-12-31: 305 + 365 + 365 + 365, both ends of the last year
    ]);
  });
});

describe("a slot that no card of the fleet names", () => {
  it("is left out with that reason: nobody would have written of its failures", async () => {
    const { lives } = await livesOf(
      {
        units: [{ commissioned_on: "2015-01-01", listed_on: "2019-12-31" }],
        cards: [
          {
            removed_on: "2017-12-01",
            installed_on: "2018-01-01",
            slots: { [DRIVE]: { fitted: true, condition: "failed" } },
          },
        ],
      },
      { asOf: "2019-12-31", slots: [DRIVE, SEALS] },
    );
    expect(lives.filter(({ slot }) => slot === SEALS)).toMatchObject([
      { days: null, left_out_days: "slot_on_no_card" },
    ]);
    expect(lives.filter(({ slot }) => slot === DRIVE).every((life) => life["left_out_days"] === null)).toBe(true);
  });
});
