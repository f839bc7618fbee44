import type { DuckDBConnection } from "@duckdb/node-api";
import { takeFleet } from "../lives/one-fleet.ts";
import { columns } from "../store/columns.ts";
import type { IntervalsAnswer } from "./answer.ts";
import { askBench } from "./bench.ts";
import { benchFindings } from "./bench-findings.ts";
import { buildStudy } from "./build-study.ts";
import { fleetDossiers } from "./fleet-dossiers.ts";
import { askIntervals } from "./intervals.ts";
import { askLife } from "./life.ts";
import { type OverviewAsked, overviewLives } from "./overview.ts";
import type { Ended, FleetOverview, SlotLives, TimelineRow } from "./overview-types.ts";
import { askRegister } from "./register.ts";
import type { FleetRegister } from "./register-types.ts";
import { type IntervalsQuestion, REPORT_SEED, type Scope, type Source } from "./scope.ts";
import { count } from "./wording.ts";

/** What is known of a fleet before its own questions are asked, from those of all fleets. */
export type FleetGiven = Pick<FleetOverview, "name" | "title" | "offenders">;

/**
 * Everything that the pages say of one fleet, and its register. The connection is ready for an overview, and holds this fleet's records alone
 * afterwards, until another is taken.
 */
export async function fleetOverview(
  connection: DuckDBConnection,
  { name, title, offenders }: FleetGiven,
  { source, level }: OverviewAsked,
): Promise<{ fleet: FleetOverview; register: FleetRegister }> {
  const { configuration, folder } = source;
  const { clock } = configuration;
  await takeFleet(connection, name);
  const scope: Scope = { fleet: name, by: [], clock, level };
  const rebuilds: IntervalsQuestion = { ...scope, events: "all", seed: REPORT_SEED };
  const intervals = await askIntervals(connection, rebuilds, source);
  const rows = await timeline(connection, name);
  const fleet: FleetOverview = {
    name,
    title,
    size: sizeOf(rows, intervals),
    slots: Object.fromEntries(Object.entries(configuration.slots).map(([slot, { title }]) => [slot, title])),
    listed: await listedHow(connection, name),
    life: await askLife(connection, { ...overviewLives(source, level), fleet: name, pool: false }, source),
    intervals,
    intervalsByGroup: await intervalsByGroup(connection, rebuilds, source),
    offenders,
    dossiers: await fleetDossiers(connection, offenders, {
      fleet: name,
      clock,
      ...(folder !== undefined && { folder }),
    }),
    builds: await buildStudy(connection, scope, source),
    lives: await slotLives(connection, name),
    timeline: rows,
    endPlay: { unit: configuration.display.length, window: configuration.windows.end_play ?? null },
    bench: await askBench(connection, { fleet: name, by: ["quarter"], level }, source),
    findings: [],
    warnings: [],
  };
  fleet.findings.push(...benchFindings(fleet));
  fleet.warnings.push(...followUpWarnings(fleet));
  return { fleet, register: await askRegister(connection, name) };
}

function sizeOf(timeline: TimelineRow[], { groups }: IntervalsAnswer): FleetOverview["size"] {
  return {
    units: new Set(timeline.map(({ unit }) => unit)).size,
    rebuilds: groups.flatMap(({ mcf }) => mcf).reduce((sum, { events }) => sum + events, 0),
  };
}

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
  rebuilds: IntervalsQuestion,
  source: Source,
): Promise<FleetOverview["intervalsByGroup"]> {
  const { models, sites } = await columns(
    connection,
    "select count(distinct model)::integer as models, count(distinct site)::integer as sites from observed where fleet = $fleet",
    { models: "integer", sites: "integer" },
    { fleet: rebuilds.fleet! },
  );
  const by = [
    { column: "model", values: models[0]! },
    { column: "site", values: sites[0]! },
  ].find(({ values }) => values > 1 && values <= MOST_GROUPS);
  if (by === undefined) return null;
  return askIntervals(connection, { ...rebuilds, by: [by.column] }, source);
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
