import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { join, relative } from "node:path";
import { version } from "node:process";
import type { DuckDBConnection } from "@duckdb/node-api";
import { ALIASES_FILE } from "../ingest/aliases/alias.ts";
import { CORRECTIONS_FILES } from "../ingest/corrections/read-corrections.ts";
import { columns } from "../store/columns.ts";
import { packageFile } from "../workspace/package-file.ts";
import type { Settings } from "../workspace/workspace.ts";
import type { MadeFrom, SettingsFile } from "./audit-types.ts";

/** With what and from what the answers are made, so that another can make them again. Works on a read-only store. */
export async function madeFrom(connection: DuckDBConnection, settings: Settings): Promise<MadeFrom> {
  const { engine } = await columns(connection, "select version() as engine", { engine: "text" });
  return {
    engine: engine[0]!,
    node: version,
    settings: await settingsFiles(settings),
    exports: await exports(connection),
  };
}

/** The files by which exports are read and questions answered; those that a workspace need not have, where they are there. */
async function settingsFiles({ folder, file, configuration }: Settings): Promise<SettingsFile[]> {
  const pipelines = configuration.pipelines.map((name) => `pipelines/${name}.yaml`);
  const own = [relative(folder, file), ...pipelines, ...CORRECTIONS_FILES, ALIASES_FILE];
  const ofWorkspace = await hashed(own, (path) => join(folder, path));
  const had = new Set(ofWorkspace.map(({ path }) => path));
  const ofPackage = await hashed(
    pipelines.filter((path) => !had.has(path)),
    packageFile,
  );
  return [
    ...ofWorkspace.map((one) => ({ ...one, ofPackage: false })),
    ...ofPackage.map((one) => ({ ...one, ofPackage: true })),
  ];
}

async function hashed(paths: string[], place: (path: string) => string): Promise<Omit<SettingsFile, "ofPackage">[]> {
  const hashes = await Promise.all(paths.map((path) => hashOf(place(path))));
  return paths.flatMap((path, at) => {
    const sha256 = hashes[at] ?? null;
    return sha256 === null ? [] : [{ path, sha256 }];
  });
}

async function hashOf(path: string): Promise<string | null> {
  try {
    return createHash("sha256")
      .update(await readFile(path))
      .digest("hex");
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return null;
    throw error;
  }
}

/** Every file of the temp table `audited` once, however many sheets and pipelines it was read by. */
async function exports(connection: DuckDBConnection): Promise<MadeFrom["exports"]> {
  const found = await columns(
    connection,
    `select path, sha256, bytes::double as bytes, max(state) as state from landing.file semi join audited using (file_id)
     join landing.file_order using (file_id) group by path, sha256, bytes order by min(rank)`,
    { path: "text", sha256: "text", bytes: "number", state: "text" },
  );
  return found.path.map((path, at) => ({
    path,
    sha256: found.sha256[at]!,
    bytes: found.bytes[at]!,
    state: found.state[at]! as MadeFrom["exports"][number]["state"],
  }));
}
