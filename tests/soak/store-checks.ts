import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, readlinkSync, statSync } from "node:fs";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { openStore } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";

const STORE = "store/framelife.duckdb";

async function withStore<Result>(
  folder: string,
  use: (connection: DuckDBConnection) => Promise<Result>,
): Promise<Result> {
  const store = await openStore(join(folder, STORE), "read");
  try {
    return await use(store.connection);
  } finally {
    store.close();
  }
}

const UNBALANCED = `select path, rows_read, not_data + quarantined + duplicate + superseded + corrected + accepted as sum
  from landing.account where rows_read <> sum`;
const TWICE = "select fleet, card from records.rebuild group by all having count(*) > 1";
const LOST = `select distinct file_id from records.rebuild_row where file_id not in (select file_id from landing.file)`;

/** What is wrong with a store, whatever happened to it: that it can't be opened, rows without account, records twice or of no file. */
export async function storeFaults(folder: string): Promise<string[]> {
  if (!existsSync(join(folder, STORE))) return [];
  try {
    return await withStore(folder, async (connection) => {
      const faults: string[] = [];
      for (const [name, sql] of Object.entries({ UNBALANCED, TWICE, LOST })) {
        const found = await rows(connection, sql);
        if (found.length > 0) faults.push(`${name}: ${JSON.stringify(found.slice(0, 3))}`);
      }
      return faults;
    });
  } catch (error) {
    return [`the store does not open: ${(error as Error).message}`];
  }
}

/** Files of which the store has other bytes than lie there, or none. */
export async function unreadFiles(folder: string, paths: string[]): Promise<string[]> {
  const known = await withStore(folder, (connection) =>
    rows(connection, "select path, sha256 from landing.file where state = 'there'"),
  );
  const sha = (path: string) =>
    createHash("sha256")
      .update(readFileSync(join(folder, path)))
      .digest("hex");
  return paths.filter((path) => !known.some((file) => file["path"] === path && file["sha256"] === sha(path)));
}

const RECORDS = ["rebuild", "fitting", "unit", "reading", "retirement", "stock", "part"];

/** All records that count, as text, without where they were read: one list a kind. */
export async function recordsOf(folder: string): Promise<Map<string, string[]>> {
  return withStore(folder, async (connection) => {
    const all = new Map<string, string[]>();
    for (const kind of RECORDS) {
      const found = await rows(
        connection,
        `select columns(*)::varchar from (from records.${kind} select * exclude (file_id, row)) order by all`,
      );
      all.set(
        kind,
        found.map((row) => JSON.stringify(row)),
      );
    }
    return all;
  });
}

/** How two sets of records differ; nothing where they are alike. */
export function differences(found: Map<string, string[]>, expected: Map<string, string[]>): string[] {
  return [...expected].flatMap(([kind, rows]) => {
    const own = found.get(kind) ?? [];
    const extra = own.filter((row) => !rows.includes(row));
    const lacking = rows.filter((row) => !own.includes(row));
    if (extra.length + lacking.length === 0 && own.length === rows.length) return [];
    return [`${kind}: ${own.length} for ${rows.length}; lacking ${lacking.slice(0, 2)}; too many ${extra.slice(0, 2)}`];
  });
}

export function storeBytes(folder: string): number {
  return statSync(join(folder, STORE)).size;
}

const BELONGS: [string, RegExp][] = [
  [".", /^(framelife\.yaml|exports|store|report|aliases\.csv)$/],
  ["store", /^(framelife\.duckdb|exports)$/],
  ["store/exports", /^[0-9a-f]{64}\.br$/],
  ["report", /^(assets|[\w-]+\.(html|csv|xlsx))$/],
  ["exports/saltmere", /^[\w-]+\.csv$/],
];

/** Files that nobody wanted: in the workspace, and in the folder for temporary ones. */
export function leftovers(folder: string, temporary: string): string[] {
  const own = BELONGS.flatMap(([part, belongs]) => {
    if (!existsSync(join(folder, part))) return [];
    return readdirSync(join(folder, part))
      .filter((name) => !belongs.test(name))
      .map((name) => `${part}/${name}`);
  });
  return [...own, ...readdirSync(temporary).map((name) => `temporary ${name}`)];
}

/** Processes that still work in a folder; none where the system has no list to read. */
export function processesIn(folder: string): string[] {
  if (!existsSync("/proc/self/cwd")) return [];
  return readdirSync("/proc").filter((pid) => {
    try {
      return /^\d+$/.test(pid) && Number(pid) !== process.pid && readlinkSync(`/proc/${pid}/cwd`).startsWith(folder);
    } catch {
      return false;
    }
  });
}
