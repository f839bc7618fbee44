import { existsSync, mkdirSync, rmSync, statSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { type Engine, type EngineUse, startEngine } from "./engine.ts";
import { memoryFault } from "./memory-fault.ts";
import { checkVersion, migrate } from "./migrate.ts";
import { removeSpillLeft, spillFolder } from "./spill-folder.ts";

export type Access = "read" | "write";

/** An open store; close it, or the next writer waits. */
export type Store = { connection: DuckDBConnection; close: () => void };

/** How long to wait for whoever holds the store, and how often to look. */
export type Patience = { waitMs: number; retryMs: number };
const PATIENCE: Patience = { waitMs: 5_000, retryMs: 100 };

// The engine locks files between processes only; two instances on one file inside a process would not see each other.
const openHere = new Map<string, { readers: number; writer: boolean }>();

/**
 * Opens the store at `path`. To write it is made if missing and brought to the present schema; to read it must exist, and
 * nothing but the store can be reached from SQL (external access off, settings locked); TEMP tables work either way. What does not fit into
 * memory is put aside beside the store; what killed processes of this machine left there goes, and of any when it is opened to write.
 * @throws UserError if there is no store, the file is none, another process holds it for over 5 s, or the system refuses
 */
export async function openStore(
  path: string,
  access: Access,
  given: EngineUse & Partial<Patience> = {},
): Promise<Store> {
  const how = { ...given, waitMs: given.waitMs ?? PATIENCE.waitMs, retryMs: given.retryMs ?? PATIENCE.retryMs };
  const file = resolve(path);
  prepare(file, access);
  const release = await acquire(file, access, how);
  let engine: Engine | undefined;
  let made = false;
  try {
    ({ engine, made } = await waitFor(file, access, how));
    const { connection } = engine;
    if (access === "write") removeSpillLeft(file);
    await (access === "write" ? migrate(connection, file) : checkVersion(connection, file));
    await connection.run("set TimeZone = 'UTC'");
    if (access === "read") await connection.run("set lock_configuration = true");
    return { connection, close: closer(engine, release) };
  } catch (error) {
    engine?.close();
    if (made) removeHalfMade(file);
    release();
    throw error;
  }
}

/** A store that could not be made leaves nothing behind that would be taken for one. Only for files that this process has made. */
function removeHalfMade(file: string): void {
  for (const part of [file, `${file}.wal`]) if (existsSync(part)) rmSync(part);
}

function prepare(file: string, access: Access): void {
  if (access === "read" && !existsSync(file)) {
    throw new UserError(`Cannot open the store: there is no store yet at ${file}; run "framelife ingest"`);
  }
  if (existsSync(file) && statSync(file).isDirectory()) {
    throw new UserError(`Cannot open the store: ${file} is a folder; name a file under "store" in framelife.yaml`);
  }
  if (access === "read") return;
  try {
    mkdirSync(dirname(file), { recursive: true });
  } catch (error) {
    throw refusedBySystem(file, error);
  }
}

async function acquire(file: string, access: Access, { waitMs, retryMs }: How): Promise<() => void> {
  const until = Date.now() + waitMs;
  for (;;) {
    const state = openHere.get(file) ?? { readers: 0, writer: false };
    const free = !state.writer && (access === "read" || state.readers === 0);
    if (free) return take(file, access, state);
    if (Date.now() >= until) throw held(file, access, "this very process");
    await pause(retryMs);
  }
}

function take(file: string, access: Access, state: { readers: number; writer: boolean }): () => void {
  if (access === "write") state.writer = true;
  else state.readers++;
  openHere.set(file, state);
  return () => {
    if (access === "write") state.writer = false;
    else state.readers--;
    if (!state.writer && state.readers === 0) openHere.delete(file);
  };
}

/** An engine on the file. `made`: the file was not there before, so that it is this process's own to take away again. */
type Held = { engine: Engine; made: boolean };

type How = EngineUse & Patience;

async function waitFor(file: string, access: Access, how: How): Promise<Held> {
  const until = Date.now() + how.waitMs;
  for (;;) {
    const tried = await tryOnce(file, access, how);
    if ("engine" in tried) return tried;
    if (Date.now() >= until) throw held(file, access, holderIn(tried.locked));
    await pause(how.retryMs);
  }
}

/** @returns the engine, or what it says of a lock that another process has: such a file is that process's, however new it is */
async function tryOnce(file: string, access: Access, use: EngineUse): Promise<Held | { locked: string }> {
  const made = access === "write" && !existsSync(file);
  try {
    return { engine: await startEngine(file, spillFolder(file), use, settings(access)), made };
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    if (text.includes("Could not set lock")) return { locked: text };
    if (made) removeHalfMade(file);
    throw explained(file, text, error);
  }
}

/** The engine's latest way to lay texts out takes half the time to write of the one that its older versions can read. */
function settings(access: Access): Record<string, string> {
  return access === "read"
    ? { access_mode: "READ_ONLY", enable_external_access: "false" }
    : { storage_compatibility_version: "latest" };
}

/** "Conflicting lock is held in /usr/bin/node (PID 7292)" names the holder. */
function holderIn(text: string): string {
  const found = /held in (.+?) \(PID (\d+)\)/.exec(text);
  return found ? `process ${found[2]} (${found[1]})` : "another process";
}

function held(file: string, access: Access, holder: string): UserError {
  const act = access === "write" ? "write to" : "read";
  return new UserError(
    `Cannot ${act} the store: ${file} is in use by ${holder}; wait until it is done, or end it, and try again`,
  );
}

function explained(file: string, text: string, cause: unknown): UserError {
  const ofMemory = memoryFault(cause);
  if (ofMemory !== null) return ofMemory;
  if (/not a valid DuckDB database|Corrupt database|Could not read enough bytes|checksum/i.test(text)) {
    return new UserError(
      `Cannot open the store: ${file} is not a store, or is damaged; name another file under "store" in framelife.yaml, or move this one away and run "framelife ingest"`,
      1,
      { cause },
    );
  }
  if (text.includes("newer") && text.includes("version")) {
    return new UserError(
      `Cannot open the store: ${file} was written by a newer version of the engine; update framelife`,
      1,
      { cause },
    );
  }
  return new UserError(`Cannot open the store: ${text.split("\n")[0]}; see to that and try again`, 1, { cause });
}

function refusedBySystem(file: string, cause: unknown): UserError {
  const text = cause instanceof Error ? cause.message : String(cause);
  return new UserError(`Cannot make the store ${file}: ${text}; choose a folder that can be written to`, 1, { cause });
}

function closer(engine: Engine, release: () => void): () => void {
  let open = true;
  return () => {
    if (!open) return;
    open = false;
    engine.close();
    release();
  };
}
