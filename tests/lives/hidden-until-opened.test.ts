import { describe, expect, it } from "vitest";
import { DRIVE, livesOf, SEALS, type Settings, type Story } from "./story.ts";

// Every expected number is by hand; the arithmetic stands beside it.

const unit = { commissioned_on: "2015-01-01", listed_on: "2019-12-31" };
const hidden: Settings = { hiddenUntilOpened: true, slots: [DRIVE, SEALS] };

type Card = NonNullable<Story["cards"]>[number];
const opened = (on: string, drive: Record<string, unknown> | null, rest: Record<string, unknown> = {}) =>
  ({ removed_on: on, reason: "planned", slots: drive === null ? {} : { [DRIVE]: drive }, ...rest }) as Card;
const foundFailed = { fitted: true, condition: "failed" };

async function driveLives(cards: Card[], settings: Settings = hidden, story: Story = {}) {
  const { lives } = await livesOf({ units: [unit], cards, ...story }, settings);
  return lives.filter(({ slot }) => slot === DRIVE);
}

describe("hidden until opened", () => {
  // 2015-01-01 to 2016-01-01: 365 days; never looked at in between, so that it failed at any age from 0 on
  it.each([
    { reason: "failure", failed_slot: null, low: null },
    { reason: "failure", failed_slot: DRIVE, low: null },
    { reason: "failure", failed_slot: SEALS, low: 0 },
    { reason: "planned", failed_slot: null, low: 0 },
    { reason: "planned", failed_slot: DRIVE, low: 0 },
    { reason: "opportunity", failed_slot: null, low: 0 },
    { reason: "modification", failed_slot: null, low: 0 },
    { reason: "unknown", failed_slot: null, low: 0 },
  ])("a failure found when taken out for $reason of $failed_slot was last known unfailed at $low", async (told) => {
    const { low, ...card } = told;
    const cards = [opened("2016-01-01", foundFailed, card)];
    expect((await driveLives(cards))[0]).toMatchObject({ status: "failed", days: 365, low_days: low });
    expect((await driveLives(cards, { ...hidden, hiddenUntilOpened: false }))[0]).toMatchObject({ low_days: null });
  });

  it.each([
    { found: { condition: "serviceable" }, status: "suspended", low: null },
    { found: {}, status: "unknown", low: null },
    { found: { condition: "worn" }, status: "suspended", low: null },
    { found: { condition: "worn" }, failedWhen: ["failed", "worn"] as const, status: "failed", low: 0 },
    { found: { damage_mode: "surface_fatigue" }, status: "failed", low: 0 },
    // Not recorded as replaced: the life ends all the same
    { found: { condition: "failed", fitted: false }, status: "failed", low: 0 },
  ])("is asked of failures alone: $found ends $status", async ({ found, failedWhen, status, low }) => {
    const lives = await driveLives([opened("2016-01-01", { fitted: true, ...found })], {
      ...hidden,
      ...(failedWhen && { failedWhen: [...failedWhen] }),
    });
    expect(lives[0]).toMatchObject({ status, days: 365, low_days: low });
    expect(lives[1]).toMatchObject({ status: "running", low_days: null, low_hours: null });
  });

  // Out 2016-01-01 at 365 days, back 2016-02-01; out 2017-01-01 at 365 + 335 = 700, back 2017-02-01; out 2018-01-01 at 700 + 334 = 1034
  it.each([
    { next: { fitted: null, condition: "worn" }, low: 700 },
    { next: { fitted: false, condition: "serviceable" }, low: 700 },
    { next: { fitted: false, condition: "not_inspected" }, low: 365 },
    { next: { fitted: false }, low: 365 },
    { next: null, low: 365 },
    // Where worn counts as failed, a worn one was not found unfailed
    { next: { fitted: false, condition: "worn" }, failedWhen: ["failed", "worn"] as const, low: 365 },
    // The card contradicts itself
    { next: { fitted: false, condition: "serviceable" }, failedSlot: DRIVE, low: 365 },
  ])("counts from the last time it was looked at and left in: $next", async ({ next, failedWhen, failedSlot, low }) => {
    const lives = await driveLives(
      [
        opened("2016-01-01", { fitted: false, condition: "serviceable" }, { installed_on: "2016-02-01" }),
        opened("2017-01-01", next, { installed_on: "2017-02-01", failed_slot: failedSlot ?? null }),
        opened("2018-01-01", foundFailed),
        opened("2019-01-01", { fitted: false, condition: "serviceable" }),
      ],
      { ...hidden, ...(failedWhen && { failedWhen: [...failedWhen] }) },
    );
    expect(lives).toMatchObject([
      { status: "failed", days: 1034, low_days: low },
      { status: "running", low_days: null },
    ]);
  });

  it("takes no inspection of the component before, nor of another unit or slot", async () => {
    const lives = await driveLives([
      opened("2016-01-01", { fitted: false, condition: "serviceable" }),
      opened("2017-01-01", { fitted: true, condition: "serviceable" }),
      opened("2017-06-01", null, { slots: { [SEALS]: { fitted: false, condition: "serviceable" } } }),
      opened("2017-07-01", { fitted: false, condition: "serviceable" }, { unit: "F2" }),
      opened("2018-01-01", foundFailed),
    ]);
    expect(lives.filter((life) => life["unit"] === "F1")).toMatchObject([
      { status: "suspended", days: 731, low_days: null },
      { status: "failed", days: 365, low_days: 0 },
      { status: "running" },
    ]);
  });

  it("is exact where it was looked at on the very day", async () => {
    const lives = await driveLives([
      opened("2016-01-01", { fitted: false, condition: "serviceable" }),
      opened("2016-01-01", foundFailed),
    ]);
    expect(lives[0]).toMatchObject({ status: "failed", days: 365, low_days: null });
  });

  // Rebuilt 2015-01-01, under observation from 2016-01-01 at 365 days, found failed 2017-01-01 at 365 + 366 = 731
  it.each([
    { inspected: null, low: 365 },
    { inspected: "2015-07-01", low: 365 }, // at 181 days, before it came under observation
    { inspected: "2016-07-01", low: 547 }, // 365 + 182
  ])("goes back to where a life came under observation late: looked at $inspected", async ({ inspected, low }) => {
    const looked = inspected === null ? [] : [opened(inspected, { fitted: false, condition: "serviceable" })];
    const lives = await driveLives(
      [...looked, opened("2017-01-01", foundFailed)],
      { ...hidden, recordsBegin: "2016-01-01" },
      { units: [{ last_rebuilt_on: "2015-01-01", listed_on: "2019-12-31" }] },
    );
    expect(lives[0]).toMatchObject({ left_out_days: null, entry_days: 365, days: 731, low_days: low });
  });

  it.each([
    { inspectedAt: 4000, failedAt: 7310, low: 4000, estimated: false, because: null },
    // 7310 h in 731 days, 365 of them before: 3650
    { inspectedAt: null, failedAt: 7310, low: 3650, estimated: true, because: null },
    { inspectedAt: 4000, failedAt: 1000, low: null, estimated: false, because: "meter_went_back" },
  ])("is told in hours where the meter stood at $inspectedAt, then $failedAt", async (told) => {
    const [life] = await driveLives([
      opened("2016-01-01", { fitted: false, condition: "serviceable" }, { hours_removed: told.inspectedAt }),
      opened("2017-01-01", foundFailed, { hours_removed: told.failedAt }),
    ]);
    expect(life).toMatchObject({
      days: 731,
      low_days: 365,
      hours: told.because === null ? told.failedAt : null,
      low_hours: told.low,
      hours_estimated: told.estimated,
      left_out_days: null,
      left_out_hours: told.because,
    });
  });
});
