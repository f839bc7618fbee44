import { createWriteStream, type WriteStream } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { finished } from "node:stream/promises";
import { stringify } from "yaml";
import { csvText } from "./csv-text.ts";
import type { CardRow, Column } from "./export-format.ts";
import { plain } from "./formats/plain.ts";
import { plainPipelines } from "./formats/plain-pipelines.ts";
import { liveFleet } from "./live-fleet.ts";
import { crewScenario, crewsOf } from "./many-fleets.ts";
import { recordFleet } from "./record-fleet.ts";
import type { FleetRecords, ReadingRecord } from "./records.ts";
import type { Scenario } from "./scenario.ts";
import { worldOf } from "./world.ts";

/** How much is wanted. */
export type ManyRebuilds = {
  /** Job cards, or a few less. */
  rebuilds: number;
  fleets: number;
  seed: number;
  /** Folder that becomes the workspace. */
  out: string;
  onStep?: (done: number, total: number, what: string) => void;
};

/** What was made. */
export type MadeRebuilds = { cards: number; units: number; files: string[] };

/**
 * Makes a whole workspace (configuration, pipelines, exports) of many fleets alike, with clean records, crew by crew, so that ten million cards
 * need no more memory than a thousand. The same numbers give the same bytes.
 */
export async function simulateRebuilds({ rebuilds, fleets, seed, out, onStep }: ManyRebuilds): Promise<MadeRebuilds> {
  const crews = crewsOf(rebuilds, fleets);
  const scenario = crewScenario(crews[0]!);
  await mkdir(join(out, "exports"), { recursive: true });
  const files = new Exports(out, Object.keys(scenario.slots));
  let [cards, units] = [0, 0];
  for (const [at, crew] of crews.entries()) {
    onStep?.(at, crews.length, crew.fleet);
    const own = crewScenario(crew);
    const world = worldOf(own, own.fleets[0]!, seed * 1000 + crew.number);
    const wanted = Math.round((rebuilds * (at + 1)) / crews.length);
    const told = withinCount(recordFleet(world, liveFleet(world)), wanted - cards);
    await files.add(crew.fleet, told, cards);
    cards += told.cards.length;
    units += told.units.length;
  }
  onStep?.(crews.length, crews.length, "");
  await files.close();
  await writeWorkspace(out, scenario, [...new Set(crews.map(({ fleet }) => fleet))]);
  return { cards, units, files: ["cards", "units", "readings", "retirements"].map((kind) => `exports/${kind}.csv`) };
}

/** Whole units, as many as have no more cards together than are wanted. */
function withinCount(records: FleetRecords, wanted: number): FleetRecords {
  if (records.cards.length <= wanted) return records;
  const cards = new Map<string, number>();
  for (const { unit } of records.cards) cards.set(unit, (cards.get(unit) ?? 0) + 1);
  const kept = new Set<string>();
  let left = wanted;
  for (const { unit } of records.units) {
    const own = cards.get(unit) ?? 0;
    if (own > left) continue;
    left -= own;
    kept.add(unit);
  }
  const ofKept = <Row extends { unit: string }>(rows: Row[]) => rows.filter(({ unit }) => kept.has(unit));
  return {
    ...records,
    cards: ofKept(records.cards),
    units: ofKept(records.units),
    readings: ofKept(records.readings),
    retirements: ofKept(records.retirements),
  };
}

/** One file a kind of record, of all fleets. */
class Exports {
  readonly #cards: Table<CardRow>;
  readonly #units: Table<FleetRecords["units"][number]>;
  readonly #readings: Table<ReadingRecord>;
  readonly #retirements: Table<FleetRecords["retirements"][number]>;
  readonly #slot: string;

  constructor(out: string, slots: string[]) {
    this.#slot = slots[0]!;
    this.#cards = new Table(join(out, "exports", "cards.csv"), plain.cards(slots));
    this.#units = new Table(join(out, "exports", "units.csv"), plain.units!.columns);
    this.#readings = new Table(join(out, "exports", "readings.csv"), plain.readings!.columns);
    this.#retirements = new Table(join(out, "exports", "retirements.csv"), plain.retirements!.columns);
  }

  /** Cards are numbered on over all fleets. */
  async add(fleet: string, { cards, units, readings, retirements }: FleetRecords, before: number): Promise<void> {
    const rows = cards.map((card, at) => ({ card: { ...card, number: before + at + 1 }, slot: this.#slot }));
    await this.#cards.add(fleet, rows);
    await this.#units.add(fleet, units);
    await this.#readings.add(fleet, lastOfEach(readings));
    await this.#retirements.add(fleet, retirements);
  }

  async close(): Promise<void> {
    for (const table of [this.#cards, this.#units, this.#readings, this.#retirements]) await table.close();
  }
}

/** The meters as they stood last; cards tell them in between. */
function lastOfEach(readings: ReadingRecord[]): ReadingRecord[] {
  const last = new Map<string, ReadingRecord>();
  for (const reading of readings) {
    const known = last.get(reading.unit);
    if (known === undefined || known.readOn < reading.readOn) last.set(reading.unit, reading);
  }
  return [...last.values()];
}

class Table<Row> {
  readonly #stream: WriteStream;
  readonly #columns: Column<Row>[];

  constructor(path: string, columns: Column<Row>[]) {
    this.#columns = columns;
    this.#stream = createWriteStream(path);
    this.#stream.write(csvText([["fleet", ...columns.map(({ header }) => header)]], plain));
  }

  async add(fleet: string, rows: Row[]): Promise<void> {
    const text = csvText(
      rows.map((row) => [fleet, ...this.#columns.map(({ text }) => text(row))]),
      plain,
    );
    await new Promise<void>((resolve, reject) => {
      this.#stream.write(text, (error) => (error ? reject(error) : resolve()));
    });
  }

  async close(): Promise<void> {
    this.#stream.end();
    await finished(this.#stream);
  }
}

const QUANTITY: Record<string, { title: string; quantity: number; kind: string }> = {
  drive_end_bearings: { title: "Drive-end bearings", quantity: 2, kind: "bearing" },
  pump_end_bearing: { title: "Pump-end bearing", quantity: 1, kind: "bearing" },
  drive_end_seals: { title: "Drive-end seals", quantity: 1, kind: "seal" },
  pump_end_seals: { title: "Pump-end seals", quantity: 1, kind: "seal" },
  shaft_sleeve: { title: "Shaft sleeve", quantity: 1, kind: "other" },
  shaft: { title: "Shaft", quantity: 1, kind: "other" },
};

async function writeWorkspace(
  out: string,
  { title, slots, as_of, records_begin }: Scenario,
  fleets: string[],
): Promise<void> {
  const pipelines = plainPipelines(null, Object.keys(slots));
  const configuration = {
    title,
    as_of,
    fleets: fleets.map((name) => ({ name, title: `Fleet ${name.slice(1)}`, records_begin })),
    slots: QUANTITY,
    windows: { end_play: { low: 2, high: 7, unit: "thou", source: "common practice, no source" } },
    bands: { end_play: [2, 3.5, 5.5, 7] },
    stock_policy: { service: 0.95, lead_time_days: 60 },
    pipelines: Object.keys(pipelines),
  };
  await mkdir(join(out, "pipelines"), { recursive: true });
  await writeFile(join(out, "framelife.yaml"), stringify(configuration));
  for (const [name, pipeline] of Object.entries(pipelines)) {
    await writeFile(join(out, "pipelines", `${name}.yaml`), stringify(pipeline));
  }
}
