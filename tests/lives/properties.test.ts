import fc from "fast-check";
import { expect, it } from "vitest";
import { DRIVE, livesOf, type Row, SEALS, type Settings, type Story } from "./story.ts";

const dayFrom = (min: number, max: number) =>
  fc.integer({ min, max }).map((days) => new Date(Date.UTC(2014, 0, 1 + days)).toISOString().slice(0, 10));
const day = dayFrom(0, 2000);
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: null, freq: 3 });
const hours = fc.integer({ min: 0, max: 99_999 });
const fitting = fc.record({
  fitted: fc.constantFrom(true, true, true, false, null),
  condition: maybe(fc.constantFrom("failed", "worn", "serviceable", "not_inspected")),
});

/** One unit's records in any disorder: dates missing or crossed, meters that jump, retirements before removals. */
const unitStory = fc.record({
  cards: fc.array(
    fc.record({
      removed_on: maybe(day),
      built_on: day,
      installed_on: maybe(day),
      hours_removed: maybe(hours),
      hours_installed: maybe(hours),
      reason: fc.constantFrom("failure", "planned", "unknown"),
      failed_slot: maybe(fc.constantFrom(DRIVE, SEALS)),
      slots: fc.record({ [DRIVE]: fitting, [SEALS]: fitting }, { requiredKeys: [] }),
    }),
    { minLength: 2, maxLength: 6 },
  ),
  units: fc.array(fc.record({ commissioned_on: maybe(day), last_rebuilt_on: maybe(day), listed_on: maybe(day) }), {
    maxLength: 2,
  }),
  readings: fc.array(fc.record({ read_on: day, hours, meter_changed: fc.boolean(), old_meter_hours: maybe(hours) }), {
    maxLength: 6,
  }),
  retirements: fc.array(fc.record({ retired_on: day }), { maxLength: 1 }),
});

/** Forty units, every other one of a fleet without a unit list; each record numbered, as an export numbers it. */
const story: fc.Arbitrary<Story> = fc.array(unitStory, { minLength: 40, maxLength: 40 }).map((units) => {
  let row = 1;
  const all = <T extends object>(pick: (told: (typeof units)[number]) => T[]) =>
    units.flatMap((told, index) => {
      const own = { unit: `F${index}`, fleet: index % 2 === 0 ? "saltmere" : "ostrel" };
      return pick(told).map((record) => ({ ...own, row: ++row, card: `J${row}`, ...record }));
    });
  const numbered = { cards: all((told) => told.cards), units: all((told) => told.units) };
  const more = { readings: all((told) => told.readings), retirements: all((told) => told.retirements) };
  return {
    ...withoutCard({ ...more, units: numbered.units.filter(({ fleet }) => fleet === "saltmere") }),
    cards: numbered.cards,
  };
});

function withoutCard(told: Record<string, { card: string }[]>): Story {
  const strip = ({ card: _, ...record }: { card: string }) => record;
  return Object.fromEntries(Object.entries(told).map(([kind, list]) => [kind, list.map(strip)]));
}

const settings: fc.Arbitrary<Settings> = fc
  .record(
    { asOf: dayFrom(1200, 2000), recordsBegin: dayFrom(0, 600), hiddenUntilOpened: fc.boolean() },
    { requiredKeys: ["asOf"] },
  )
  .map((given) => ({ ...given, slots: [DRIVE, SEALS] }));

const number = (row: Row, name: string) => row[name] as number;

function expectSoundTimes(row: Row, clock: "days" | "hours"): void {
  if (row[`left_out_${clock}`] === null) expect(row[clock] ?? 0, JSON.stringify(row)).toBeGreaterThan(0);
  else expect(row[clock]).toBeNull();
}

function expectSoundEntry(life: Row, clock: "days" | "hours"): void {
  if (life[`left_out_${clock}`] !== null) return;
  const [time, entry, seen] = [clock, `entry_${clock}`, `last_seen_${clock}`].map((name) => number(life, name));
  expect(entry).toBeGreaterThanOrEqual(0);
  expect(time).toBeGreaterThan(entry ?? Number.NaN);
  if (life[`last_seen_${clock}`] === null) expect(life["assumed_running"]).toBe(true);
  else expect(seen).toBeGreaterThan(entry ?? Number.NaN);
}

/** @returns whether the life is known by an interval only */
function expectSoundInterval(life: Row, clock: "days" | "hours"): boolean {
  const low = life[`low_${clock}`];
  if (low === null) return false;
  expect(life, JSON.stringify(life)).toMatchObject({ status: "failed", [`left_out_${clock}`]: null });
  expect(low).toBeGreaterThanOrEqual(number(life, `entry_${clock}`));
  expect(low).toBeLessThan(number(life, clock));
  return true;
}

/** @returns how many pairs of neighbours were looked at */
function expectNoOverlap(lives: Row[]): number {
  const place = (life: Row) => [life["fleet"], life["unit"], life["slot"]].join(" ");
  const sorted = lives
    .filter((life) => life["left_out_days"] === null)
    .map((life) => ({ place: place(life), start: String(life["start_on"]), stop: String(life["stop_on"]) }))
    .sort((a, b) => `${a.place} ${a.start} ${a.stop}`.localeCompare(`${b.place} ${b.start} ${b.stop}`));
  let looked = 0;
  for (let index = 1; index < sorted.length; index++) {
    const [earlier, later] = [sorted[index - 1]!, sorted[index]!];
    if (earlier.place !== later.place) continue;
    looked++;
    expect(later.start >= earlier.stop, JSON.stringify([earlier, later])).toBe(true);
  }
  return looked;
}

it("usable lives of a slot never overlap, and no time is negative, zero or before its entry", async () => {
  let looked = 0;
  const intervals = { days: 0, hours: 0 };
  await fc.assert(
    fc.asyncProperty(story, settings, async (told, given) => {
      const { lives, installations } = await livesOf(told, given);
      for (const row of [...lives, ...installations]) {
        expectSoundTimes(row, "days");
        expectSoundTimes(row, "hours");
        expect(row["start_on"] === null || String(row["start_on"]) <= String(given.asOf)).toBe(true);
      }
      for (const life of lives) {
        for (const clock of ["days", "hours"] as const) {
          expectSoundEntry(life, clock);
          if (expectSoundInterval(life, clock)) intervals[clock]++;
        }
      }
      looked += expectNoOverlap(lives);
      expect(new Set(lives.map((life) => life["life_id"])).size).toBe(lives.length);
    }),
    { numRuns: 8, seed: 20_260_101, endOnFailure: true },
  );
  expect(looked).toBeGreaterThan(50);
  expect(intervals.days).toBeGreaterThan(20);
  expect(intervals.hours).toBeGreaterThan(0);
});

it("lives do not depend on the order in which the records lie", async () => {
  await fc.assert(
    fc.asyncProperty(story, settings, async (told, given) => {
      const reversed = Object.fromEntries(Object.entries(told).map(([kind, list]) => [kind, [...list].reverse()]));
      expect(await livesOf(reversed, given)).toEqual(await livesOf(told, given));
    }),
    { numRuns: 3, seed: 20_260_102, endOnFailure: true },
  );
});
