import { deserialize, serialize } from "node:v8";
import { deflateRawSync } from "node:zlib";
import {
  type FleetInShort,
  fleetInShort,
  type RegisterInShort,
  registerInShort,
} from "../../reports/fleet-in-short.ts";
import type { PageInput } from "../../reports/report-input.ts";
import { writeFleet } from "../../reports/write-report.ts";
import { type FleetGiven, fleetOverview } from "../questions/fleet-overview.ts";
import type { KeptAnswer } from "../questions/keep-answers.ts";
import type { OffendersAnswer } from "../questions/offenders-answer.ts";
import {
  type OverviewAsked,
  overviewBuilds,
  overviewCompared,
  overviewOffenders,
  overviewSpares,
  readyOverview,
} from "../questions/overview.ts";
import type { FleetOverview } from "../questions/overview-types.ts";
import type { EngineUse } from "../store/engine.ts";
import { openStore, type Store } from "../store/open-store.ts";
import type { Configuration } from "../workspace/configuration.ts";

/** What all tasks of a report work on. */
export type ReportSetup = {
  storePath: string;
  configuration: Configuration;
  level: number;
  asOf?: string;
  /** The workspace's folder where the command named one. */
  named?: string;
  /** What the engine may take. */
  engine: EngineUse;
};

/** Answers of one fleet on the way between threads: as objects those of many fleets would fill the memory of the thread that passes them on. */
export type PackedOffenders = Uint8Array;

/** A fleet whose pages are to be written into `folder`. */
export type FleetTask = {
  given: Pick<FleetGiven, "name" | "title"> & { offenders: Record<"unit" | "position", PackedOffenders> };
  input: Omit<PageInput, "register">;
  folder: string;
  /** Whether its answers are wanted in full, to be kept. */
  keep: boolean;
};

/** What is left of a fleet when its pages are written. */
export type FleetMade = { fleet: FleetInShort; register: RegisterInShort; pages: string[]; answers: KeptAnswer[] };

/** The pieces of work that make up a report, each asked for by its name; those of all fleets come before the first fleet. */
export type ReportTasks = ReturnType<typeof reportTasks>;

export function reportTasks(setup: ReportSetup) {
  const opened = open(setup);
  const ask = async <Result>(work: (at: Opened & { asked: OverviewAsked }) => Promise<Result>): Promise<Result> => {
    const { store, asked } = await opened;
    if (asked === null) throw new TypeError("Cannot answer for a report: no record has a date");
    return work({ store, asked });
  };
  return {
    /** The as-of date; null where no record has a date, and nothing else is to be asked. */
    asOf: async () => (await opened).asked?.source.asOf ?? null,
    offenders: (kind: "unit" | "position") =>
      ask(async ({ store, asked }) => packed(await overviewOffenders(store.connection, kind, asked))),
    builds: () => ask(({ store, asked }) => overviewBuilds(store.connection, asked)),
    spares: () => ask(({ store, asked }) => overviewSpares(store.connection, asked)),
    compared: () => ask(({ store, asked }) => overviewCompared(store.connection, asked)),
    fleet: (task: FleetTask) => ask(({ store, asked }) => makeFleet(store, task, asked)),
    close: async () => (await opened).store.close(),
  };
}

type Opened = { store: Store; asked: OverviewAsked | null };

async function open({ storePath, configuration, level, asOf, named, engine }: ReportSetup): Promise<Opened> {
  const store = await openStore(storePath, "read", engine);
  try {
    const options = { level, ...(asOf !== undefined && { asOf }), ...(named !== undefined && { folder: named }) };
    return { store, asked: await readyOverview(store.connection, configuration, options) };
  } catch (error) {
    store.close();
    throw error;
  }
}

async function makeFleet(
  { connection }: Store,
  { given, input, folder, keep }: FleetTask,
  asked: OverviewAsked,
): Promise<FleetMade> {
  const { unit, position } = given.offenders;
  const offenders = { unit: deserialize(unit), position: deserialize(position) };
  const { fleet, register } = await fleetOverview(connection, { ...given, offenders }, asked);
  const short = registerInShort(register);
  const pages = await writeFleet({ ...input, register: new Map([[fleet.name, short]]) }, { fleet, register }, folder);
  return { fleet: fleetInShort(fleet), register: short, pages, answers: keep ? answersOf(fleet) : [] };
}

function packed(answers: Map<string, OffendersAnswer>): Map<string, PackedOffenders> {
  return new Map([...answers].map(([fleet, answer]) => [fleet, serialize(answer)]));
}

function answersOf({ name, life, intervals, offenders }: FleetOverview): KeptAnswer[] {
  return [
    { command: "life", answer: life },
    { command: "intervals", answer: intervals },
    { command: "offenders", answer: offenders.unit },
    { command: "offenders --by position", answer: offenders.position },
  ].map(({ command, answer }) => ({
    command,
    fleet: name,
    sentence: answer.answer,
    // Of many fleets they wait together until all are there: ten times as many fit packed.
    packed: deflateRawSync(JSON.stringify(answer), { level: 1 }),
  }));
}
