import type { DuckDBConnection } from "@duckdb/node-api";
import { deriveBuilt } from "../lives/derive-built.ts";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { askBench } from "./bench.ts";
import { benchFindings } from "./bench-findings.ts";
import { buildStudy } from "./build-study.ts";
import { derivedOrNone } from "./derived-or-none.ts";
import { fleetDossiers } from "./fleet-dossiers.ts";
import { askIntervals } from "./intervals.ts";
import { answerGroups, lifeAnswer } from "./life.ts";
import { askOffendersByFleet } from "./offenders.ts";
import type { Ended, FleetOverview, Overview, SlotLives, TimelineRow } from "./overview-types.ts";
import { askRegister } from "./register.ts";
import { type LifeQuestion, plainLifeQuestion, REPORT_SEED, type Scope, type Source } from "./scope.ts";
import { askSpares } from "./spares.ts";
import type { SparesQuestion } from "./spares-scope.ts";
import { count } from "./wording.ts";

export type OverviewOptions = {
  asOf?: string;
  level: number;
  /** The workspace's folder where the command named one. */
  folder?: string;
  onStep?: (done: number, total: number, what: string) => void;
};

/** Every question asked of every fleet: what the report's pages are made of. Works on a read-only store. */
export async function askOverview(
  connection: DuckDBConnection,
  configuration: Configuration,
  options: OverviewOptions,
): Promise<Overview> {
  const derived = await derivedOrNone(connection, {
    configuration,
    ...(options.asOf === undefined ? {} : { asOf: options.asOf }),
  });
  if (derived === null)
    return { title: configuration.title, asOf: null, level: options.level, seed: REPORT_SEED, ...NOTHING };
  const { asOf, latestOn } = derived;
  const { clock } = configuration;
  await runStep(connection, `40_studied_${clock}`);
  await runStep(connection, `41_observed_${clock}`);
  await runStep(connection, `43_exposed_${clock}`);
  await deriveBuilt(connection, configuration);
  const { folder } = options;
  const source: Source = { kind: "workspace", configuration, asOf, latestOn, ...(folder !== undefined && { folder }) };
  const fleets: FleetOverview[] = [];
  const everywhere: LifeQuestion = {
    ...plainLifeQuestion({ by: [], clock, level: options.level }),
    mission: [AHEAD[clock]],
    modes: true,
    rating: Object.keys(configuration.bearings).length > 0,
    pool: configuration.fleets.length > 1,
    checks: true,
  };
  options.onStep?.(0, configuration.fleets.length, "lives");
  const answered = await answerGroups(connection, everywhere, source);
  const life = lifeAnswer(answered, everywhere, source);
  const asked = { by: [], clock, level: options.level, seed: REPORT_SEED };
  const frames = await askOffendersByFleet(connection, { ...asked, kind: "unit" }, source);
  const places = await askOffendersByFleet(connection, { ...asked, kind: "position" }, source);
  for (const [index, { name, title }] of configuration.fleets.entries()) {
    options.onStep?.(index, configuration.fleets.length, title);
    const scope: Scope = { fleet: name, by: [], clock, level: options.level };
    const offenders = { unit: frames.get(name)!, position: places.get(name)! };
    fleets.push({
      name,
      title,
      slots: Object.fromEntries(Object.entries(configuration.slots).map(([slot, { title }]) => [slot, title])),
      listed: await listedHow(connection, name),
      life: lifeAnswer(
        answered.filter(({ group }) => group.by["fleet"] === name),
        { ...everywhere, fleet: name, pool: false },
        source,
      ),
      intervals: await askIntervals(connection, { ...scope, events: "all", seed: REPORT_SEED }, source),
      intervalsByGroup: await intervalsByGroup(connection, scope, source),
      offenders,
      dossiers: await fleetDossiers(connection, offenders, {
        fleet: name,
        clock,
        ...(folder !== undefined && { folder }),
      }),
      builds: await buildStudy(connection, scope, source),
      lives: await slotLives(connection, name),
      timeline: await timeline(connection, name),
      endPlay: { unit: configuration.display.length, window: configuration.windows.end_play ?? null },
      bench: await askBench(connection, { fleet: name, by: ["quarter"], level: options.level }, source),
      findings: [],
      warnings: [],
    });
  }
  for (const fleet of fleets) {
    fleet.findings.push(...benchFindings(fleet));
    fleet.warnings.push(...followUpWarnings(fleet));
  }
  options.onStep?.(configuration.fleets.length, configuration.fleets.length, "what will be used");
  const spares = await askSpares(connection, sparesQuestion(configuration, options.level), source);
  options.onStep?.(configuration.fleets.length, configuration.fleets.length, "");
  return {
    title: configuration.title,
    asOf,
    level: options.level,
    seed: REPORT_SEED,
    fleets,
    builds: fleets.length < 2 ? [] : await buildStudy(connection, { by: [], clock, level: options.level }, source),
    spares,
    register: await askRegister(connection),
    compared: life,
  };
}

const NOTHING = { fleets: [], builds: [], spares: null, register: new Map() };

/** One shelf for all fleets, a year ahead; planned ages where the workspace says what rebuilds cost. */
function sparesQuestion({ clock, costs }: Configuration, level: number): SparesQuestion {
  return { clock, level, horizon: 12, draws: 2000, seed: REPORT_SEED, ...(costs !== undefined && { replace: "own" }) };
}

/** How much further running units are looked at on pages, by the clock: half a year of running without pause, half a year. */
const AHEAD = { hours: 4000, days: 180 } as const;

async function listedHow(connection: DuckDBConnection, fleet: string): Promise<FleetOverview["listed"]> {
  const { listed, dated } = await columns(
    connection,
    "select count(*)::integer as listed, count(listed_on)::integer as dated from records.unit where fleet = $fleet",
    { listed: "integer", dated: "integer" },
    { fleet },
  );
  if (dated[0]! > 0) return "dated";
  return listed[0]! > 0 ? "undated" : "none";
}

/** Groups to set beside each other on a page. */
const MOST_GROUPS = 12;

async function intervalsByGroup(
  connection: DuckDBConnection,
  scope: Scope,
  source: Source,
): Promise<FleetOverview["intervalsByGroup"]> {
  const { models, sites } = await columns(
    connection,
    "select count(distinct model)::integer as models, count(distinct site)::integer as sites from observed where fleet = $fleet",
    { models: "integer", sites: "integer" },
    { fleet: scope.fleet! },
  );
  const by = [
    { column: "model", values: models[0]! },
    { column: "site", values: sites[0]! },
  ].find(({ values }) => values > 1 && values <= MOST_GROUPS);
  if (by === undefined) return null;
  return askIntervals(connection, { ...scope, by: [by.column], events: "all", seed: REPORT_SEED }, source);
}

async function slotLives(connection: DuckDBConnection, fleet: string): Promise<SlotLives[]> {
  const found = await columns(
    connection,
    `select slot, entry, case when isinf(time_high) then time_low else time_high end as time, status
     from studied where fleet = $fleet and left_out is null order by slot, time, entry, status`,
    { slot: "text", entry: "number", time: "number", status: "text" },
    { fleet },
  );
  const bySlot = new Map<string, number>();
  found.slot.forEach((slot, row) => void (bySlot.has(slot) || bySlot.set(slot, row)));
  return [...bySlot].map(([slot, from]) => {
    const to = found.slot.lastIndexOf(slot) + 1;
    return {
      slot,
      entry: found.entry.slice(from, to),
      time: found.time.slice(from, to),
      ended: found.status.slice(from, to) as Ended[],
    };
  });
}

async function timeline(connection: DuckDBConnection, fleet: string): Promise<TimelineRow[]> {
  const found = await columns(
    connection,
    `select unit, coalesce(position, '') as position, start_on::varchar as start, stop_on::varchar as stop, ends,
            assumed_running::utinyint as assumed
     from installation where fleet = $fleet and start_on is not null and stop_on is not null order by unit, start_on, stop_on`,
    { unit: "text", position: "text", start: "text", stop: "text", ends: "text", assumed: "integer" },
    { fleet },
  );
  return found.unit.map((unit, row) => ({
    unit,
    position: found.position[row] || null,
    start: found.start[row]!,
    stop: found.stop[row]!,
    ends: found.ends[row]! as TimelineRow["ends"],
    assumedRunning: found.assumed[row] === 1,
  }));
}

function followUpWarnings({ listed, timeline: rows }: FleetOverview): string[] {
  const found: string[] = [];
  if (listed === "none")
    found.push("There is no list of all units in service: lives of units that never came back are unknown.");
  if (listed === "undated")
    found.push(
      "The list of units in service has no date: it doesn't show that a unit on it still ran, nor that one missing from it did not.",
    );
  const assumed = rows.filter(({ assumedRunning }) => assumedRunning).length;
  if (assumed > 0)
    found.push(`${count(assumed, "frame is", "frames are")} taken to run still, with nothing on record to show it.`);
  return found;
}
