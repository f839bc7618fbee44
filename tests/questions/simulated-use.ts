import { deriveLives } from "../../src/lives/derive-lives.ts";
import { replayFleet } from "../../src/questions/spares-backtest-origin.ts";
import type { Replayed } from "../../src/questions/spares-backtest-scores.ts";
import { originsOf } from "../../src/questions/spares-origins.ts";
import { addDays } from "../../src/questions/spares-use.ts";
import { dayOf, isoDate } from "../../src/simulate/day.ts";
import { liveFleet } from "../../src/simulate/live-fleet.ts";
import { recordFleet } from "../../src/simulate/record-fleet.ts";
import type { CardRecord, FleetRecords } from "../../src/simulate/records.ts";
import { Scenario } from "../../src/simulate/scenario.ts";
import { worldOf } from "../../src/simulate/world.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import { runStep } from "../../src/store/run-step.ts";
import { Configuration } from "../../src/workspace/configuration.ts";
import { type Story, tell } from "../lives/story.ts";

/** A kind of fleet: what is true of it. Running hours are about 14 a day. */
export type Kind = {
  units: number;
  /** Places; as many as units where not given, so that no frame waits on the shelf. */
  positions?: number;
  /** Years from the first frame to the origin, and days in which frames were bought. */
  years: number;
  boughtWithinDays: number;
  slots: Record<string, { shape: number; scale: number; kit?: boolean; renewed?: number }>;
  plannedAfterHours?: { mean: number; sd: number };
  unitSd?: number;
  daysInShop?: [number, number];
  daysToInstall?: [number, number];
  retiredAYear?: number;
};

const ORIGIN = "2019-12-31";
const AS_OF = "2020-12-31";

function scenarioOf(kind: Kind, names: string[]): Scenario {
  const begins = isoDate(dayOf(ORIGIN) + 1 - Math.round(365.25 * kind.years));
  const { positions = kind.units } = kind;
  return Scenario.parse({
    title: "Fleets of one kind",
    seed: 0,
    begins,
    records_begin: begins,
    as_of: AS_OF,
    slots: Object.fromEntries(
      Object.entries(kind.slots).map(([slot, law]) => [slot, { kit: true, ...law, modes: { not_classifiable: 1 } }]),
    ),
    effects: { unit_sd: kind.unitSd ?? 0 },
    truth: { lives: 1000, histories: 0 },
    bench: { end_play_mean: 4.5, end_play_sd: 1, gauge_sd: 0, fitters: 1, fitter_sd: 0, copied: 0, copied_as: 0 },
    fleets: names.map((name) => ({
      ...{ name, format: "plain", units: kind.units, unit_prefix: "U", early_units: 0, last_rebuild_known: 0 },
      ...{ bought_within_days: kind.boughtWithinDays, models: [{ name: "BF", speed_rpm: 1480, share: 1 }] },
      ...{ oil_bath: 1, lube_matched: 0, position_prefix: "P" },
      sites: [{ name: "Site", surroundings: "clean", positions }],
      hours_a_day: { mean: 14, log_sd: 0.2, most: 22 },
      idle: { spells_a_year: 0, days: [0, 0] },
      ...{
        days_to_shop: [0, 0],
        days_in_shop: kind.daysInShop ?? [0, 0],
        days_to_install: kind.daysToInstall ?? [1, 1],
      },
      ...(kind.plannedAfterHours && { planned_after_hours: kind.plannedAfterHours }),
      retired_a_year: kind.retiredAYear ?? 0.01,
      meter: { changes: 0, stuck: 0, rollovers: 0 },
    })),
  });
}

function cardOf(fleet: string, card: CardRecord): NonNullable<Story["cards"]>[number] {
  const day = (number: number | null) => (number === null ? null : isoDate(number));
  return {
    ...{ fleet, unit: card.unit, card: String(card.number), position: card.toPosition, model: card.model },
    ...{ removed_on: day(card.removedOn), received_on: day(card.receivedOn), built_on: day(card.builtOn) },
    ...{ installed_on: day(card.installedOn), hours_removed: card.hoursRemoved, hours_installed: card.hoursInstalled },
    ...{ reason: card.reason, failed_slot: card.failedSlot },
    slots: Object.fromEntries([...card.slots].map(([slot, { fitted, condition }]) => [slot, { fitted, condition }])),
  };
}

function storyOf(fleets: [string, FleetRecords][]): Story {
  return {
    cards: fleets.flatMap(([fleet, { cards }]) => cards.map((card) => cardOf(fleet, card))),
    units: fleets.flatMap(([fleet, { units }]) =>
      units.map((unit) => ({
        ...{ fleet, unit: unit.unit, model: unit.model, position: unit.position },
        commissioned_on: isoDate(unit.commissionedOn),
      })),
    ),
    readings: fleets.flatMap(([fleet, { readings }]) =>
      readings.map(({ unit, readOn, hours }) => ({ fleet, unit, read_on: isoDate(readOn), hours })),
    ),
    retirements: fleets.flatMap(([fleet, { retirements }]) =>
      retirements.map(({ unit, retiredOn }) => ({ fleet, unit, retired_on: isoDate(retiredOn) })),
    ),
  };
}

/** Fleets that share a store: as many cards as are told at once. */
const TOGETHER = 50;

/**
 * Lives fleets of one kind through, writes their records to empty stores, and forecasts each from its own records as they were a year
 * before the end.
 * @returns of each fleet what was forecast and what came: of each part, which are called as the slots, and last of the frames opened
 */
export async function replayedFleets(
  kind: Kind,
  { seed, fleets, draws }: { seed: number; fleets: number; draws: number },
): Promise<Replayed[][]> {
  const names = Array.from({ length: fleets }, (_, at) => `f${String(at).padStart(4, "0")}`);
  const replayed: Replayed[][] = [];
  for (let from = 0; from < fleets; from += TOGETHER) {
    replayed.push(...(await replayedTogether(kind, names.slice(from, from + TOGETHER), { seed, draws })));
  }
  return replayed;
}

async function replayedTogether(
  kind: Kind,
  names: string[],
  { seed, draws }: { seed: number; draws: number },
): Promise<Replayed[][]> {
  const scenario = scenarioOf(kind, names);
  const records = scenario.fleets.map((plan): [string, FleetRecords] => {
    const world = worldOf(scenario, plan, seed);
    return [plan.name, recordFleet(world, liveFleet(world))];
  });
  const store = await openMemory();
  try {
    const { connection } = store;
    await tell(connection, storyOf(records));
    const configuration = configurationOf(kind, names, scenario.begins);
    await deriveLives(connection, { configuration, asOf: ORIGIN });
    await runStep(connection, "40_studied_hours");
    const { edges } = originsOf(scenario.begins, AS_OF);
    const replayed: Replayed[][] = [];
    for (const [at, fleet] of names.entries()) {
      await runStep(connection, "61_used", { fleet, from_on: edges[0]!, to_on: edges.at(-1)! });
      const question = { fleet, clock: "hours" as const, draws, seed: seed + at };
      const place = edges.indexOf(addDays(ORIGIN, 1));
      const origin = await replayFleet(connection, { question, configuration, edges, place, isApart: true });
      if (origin === null) throw new RangeError(`nothing is known of ${fleet}`);
      replayed.push(origin.series);
    }
    return replayed;
  } finally {
    store.close();
  }
}

function configurationOf({ slots }: Kind, names: string[], begins: string): Configuration {
  return Configuration.parse({
    title: "Fleets of one kind",
    fleets: names.map((name) => ({ name, title: name, records_begin: begins })),
    slots: Object.fromEntries(Object.keys(slots).map((slot) => [slot, { title: slot, quantity: 1, kind: "other" }])),
    kits: Object.fromEntries(Object.keys(slots).map((slot) => [slot, [{ part: slot }]])),
    pipelines: ["cards"],
  });
}
