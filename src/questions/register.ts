import type { DuckDBConnection } from "@duckdb/node-api";
import { type Columns, columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { BuildEnd } from "./dossier-types.ts";
import type {
  BadPart,
  BuildsOfFleet,
  FleetRegister,
  RegisteredBuild,
  RegisteredFrame,
  RegisteredPosition,
} from "./register-types.ts";

/** Builds of one fleet that pages have room for; of more each frame is given without its builds. */
export const MOST_REGISTERED = 20_000;

/**
 * Every frame and position of one fleet on record, with their builds. The connection holds `known_unit` and `installation`.
 */
export async function askRegister(connection: DuckDBConnection, fleet: string): Promise<FleetRegister> {
  await runStep(connection, "50_noted");
  await runStep(connection, "63_register", { fleet });
  const frames = await framesOf(connection);
  const builds = frames.reduce((sum, frame) => sum + frame.builds, 0);
  return {
    frames,
    positions: await positionsOf(connection),
    builds,
    history: builds > MOST_REGISTERED ? null : await buildsOf(connection, fleet),
  };
}

async function framesOf(connection: DuckDBConnection): Promise<RegisteredFrame[]> {
  const found = await columns(
    connection,
    `select * replace (last_out::varchar as last_out, since::varchar as since, followed_to::varchar as followed_to, retired_on::varchar as retired_on)
     from registered_frame`,
    {
      unit: "text",
      models: "text",
      builds: "integer",
      failures: "integer",
      last_out: "text",
      position: "text",
      since: "text",
      followed_to: "text",
      retired_on: "text",
      runs: "boolean",
      assumed_running: "boolean",
    },
  );
  const frames = found.unit.map((id, row) => ({
    id,
    models: found.models[row]!,
    builds: found.builds[row]!,
    failures: found.failures[row]!,
    lastOut: found.last_out[row]!,
    position: found.position[row]!,
    since: found.since[row]!,
    followedTo: found.followed_to[row]!,
    retiredOn: found.retired_on[row]!,
    runs: found.runs[row] === 1,
    assumedRunning: found.assumed_running[row] === 1,
  }));
  return frames.sort(inOrder);
}

async function positionsOf(connection: DuckDBConnection): Promise<RegisteredPosition[]> {
  const found = await columns(
    connection,
    `select * replace (since::varchar as since, followed_to::varchar as followed_to) from registered_position`,
    {
      position: "text",
      frames: "integer",
      builds: "integer",
      failures: "integer",
      unit: "text",
      since: "text",
      followed_to: "text",
      runs: "boolean",
    },
  );
  const positions = found.position.map((id, row) => ({
    id,
    frames: found.frames[row]!,
    builds: found.builds[row]!,
    failures: found.failures[row]!,
    unit: found.unit[row]!,
    since: found.since[row]!,
    followedTo: found.followed_to[row]!,
    runs: found.runs[row] === 1,
  }));
  return positions.sort(inOrder);
}

const natural = new Intl.Collator("en", { numeric: true });

/** "P-9" stands before "P-10". */
function inOrder(one: { id: string }, other: { id: string }): number {
  return natural.compare(one.id, other.id);
}

const BUILDS = `
  select unit, build_number, position, start_on::varchar as start, stop_on::varchar as stop, ends, assumed_running, retired, failed_slot, found, end_play, lube,
         start_name, coalesce(start_row, 0) as start_row, stop_name, coalesce(stop_row, 0) as stop_row
  from registered_build order by start_on nulls first, stop_on, unit, build_number`;

const SHAPE = {
  unit: "category",
  build_number: "integer",
  position: "category",
  start: "text",
  stop: "text",
  ends: "category",
  assumed_running: "boolean",
  retired: "boolean",
  failed_slot: "category",
  found: "category",
  end_play: "number",
  lube: "category",
  start_name: "category",
  start_row: "integer",
  stop_name: "category",
  stop_row: "integer",
} as const;

async function buildsOf(connection: DuckDBConnection, fleet: string): Promise<BuildsOfFleet> {
  const found = await columns(connection, BUILDS, SHAPE);
  const made = (rows: number[] | undefined) => (rows ?? []).map((row) => buildAt(found, row, fleet));
  const frames = rowsOf(found.unit);
  const positions = rowsOf(found.position);
  return {
    ofFrame: (unit) => made(frames.get(unit)),
    ofPosition: (position) => made(positions.get(position)),
  };
}

/** Where each word of a column stands. */
function rowsOf({ codes, words }: { codes: Int32Array; words: string[] }): Map<string, number[]> {
  const rows: number[][] = words.map(() => []);
  codes.forEach((code, row) => void (code < 0 || rows[code]!.push(row)));
  return new Map(words.map((word, code) => [word, rows[code]!]));
}

function buildAt(found: Columns<typeof SHAPE>, row: number, fleet: string): RegisteredBuild {
  const word = (column: "unit" | "position" | "ends" | "failed_slot" | "found" | "lube" | "start_name" | "stop_name") =>
    found[column].words[found[column].codes[row]!] ?? "";
  const source = (end: "start" | "stop") => {
    const name = word(`${end}_name`);
    return name === "" ? "" : `${name}:${found[`${end}_row`][row]}`;
  };
  const endPlay = found.end_play[row]!;
  const unit = word("unit");
  const number = found.build_number[row]!;
  return {
    id: `${fleet}/${unit}/${number}`,
    unit,
    number,
    position: word("position"),
    start: found.start[row]!,
    stop: found.stop[row]!,
    ends: word("ends") as BuildEnd,
    assumedRunning: found.assumed_running[row] === 1,
    retired: found.retired[row] === 1,
    failedSlot: word("failed_slot"),
    found: badParts(word("found")),
    endPlay: Number.isNaN(endPlay) ? null : endPlay,
    lube: word("lube"),
    startSource: source("start"),
    stopSource: source("stop"),
  };
}

/** Control characters part what the step joins: none is in a word of ours, and of an export's the checks leave none. */
function badParts(joined: string): BadPart[] {
  return joined === ""
    ? []
    : joined.split("\u001f").map((part) => {
        const [slot = "", condition = "", damageMode = ""] = part.split("\u001e");
        return { slot, condition, damageMode };
      });
}
