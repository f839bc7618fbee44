import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { build } from "esbuild";
import { describe, expect, it } from "vitest";
import { ingest } from "../../src/ingest/ingest.ts";
import { openStore } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const cards = [CARD_HEADER, "1,FA-1,01/02/2023,03/02/2023,1234,failed,5,Y,bad", ""].join("\n");
const changed = cards.replace("1234", "1300");
const EVERYTHING = [
  "landing.file",
  "landing.set_aside",
  "landing.change",
  "quarantine.finding",
  "records.rebuild_row",
  "records.fitting_row",
];

async function everything(workspace: ScratchWorkspace): Promise<string[][]> {
  return Promise.all(EVERYTHING.map((table) => workspace.lines(`select * from ${table} order by all`)));
}

/** The connection, except that the step of this name fails. */
function failingAt(connection: DuckDBConnection, step: string): DuckDBConnection {
  return new Proxy(connection, {
    get: (target, key) => {
      if (key === "extractStatements") {
        return (sql: string) => {
          if (sql.includes(`pipelines/sql/${step}.sql`)) throw new Error("No space left on device");
          return target.extractStatements(sql);
        };
      }
      const value: unknown = Reflect.get(target, key);
      return typeof value === "function" ? value.bind(target) : value;
    },
  });
}

describe("a crash in the middle of a file", () => {
  it.each(["10_forget_file", "12_file", "13_set_aside", "24_verdicts", "25_rebuild_rows", "27_notes"])(
    "at step %s leaves the store as it was, and the next run does it all",
    async (step) => {
      const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards });
      await workspace.ingest();
      const before = await everything(workspace);
      workspace.write("exports/cards.csv", changed);
      const connection = failingAt(await workspace.connection(), step);
      await expect(ingest(readWorkspace(workspace.folder), connection)).rejects.toThrow(
        'Cannot store exports/cards.csv: No space left on device; make room and run "framelife ingest" again',
      );
      expect(await everything(workspace)).toEqual(before);
      expect((await workspace.ingest()).files).toMatchObject([{ accepted: 1 }]);
      expect(await workspace.lines("select hours_removed from records.rebuild")).toEqual(["1300.0"]);
    },
  );

  it("keeps the files read before it", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards-1.csv": cards, "exports/cards-2.csv": "" },
    );
    await expect(workspace.ingest()).rejects.toThrow("cards-2.csv: the file is empty");
    expect(await workspace.lines("select path from landing.file")).toEqual(["exports/cards-1.csv"]);
  });

  it("of the whole process, killed, leaves the store as it was", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards });
    const script = packageFile(`node_modules/.cache/framelife-tests/killed-${process.pid}.mjs`);
    mkdirSync(join(script, ".."), { recursive: true });
    await build({
      stdin: { contents: KILLED, resolveDir: packageFile("tests/ingest"), loader: "ts" },
      bundle: true,
      platform: "node",
      format: "esm",
      packages: "external",
      outfile: script,
    });
    const run = (step: string) => spawnSync(process.execPath, [script, workspace.folder, step], { encoding: "utf8" });
    expect(run("none").stderr).toBe("");
    workspace.write("exports/cards.csv", changed);
    expect(run("27_notes").signal).toBe("SIGKILL");
    const reader = await openStore(join(workspace.folder, "store/framelife.duckdb"), "read");
    expect(await rows(reader.connection, "select hours_removed from records.rebuild")).toEqual([
      { hours_removed: 1234 },
    ]);
    reader.close();
    expect(await workspace.lines("select hours_removed from records.rebuild_row")).toEqual(["1234.0"]);
    expect((await workspace.ingest()).files).toMatchObject([{ accepted: 1 }]);
    expect(await workspace.lines("select hours_removed from records.rebuild")).toEqual(["1300.0"]);
  });
});

/** Ingests the workspace named, and kills itself when it comes to the step named. */
const KILLED = `
import { ingest } from "../../src/ingest/ingest.ts";
import { openStore } from "../../src/store/open-store.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
const [folder = "", step = ""] = process.argv.slice(2);
const workspace = readWorkspace(folder);
const store = await openStore(workspace.storePath, "write");
const extract = store.connection.extractStatements.bind(store.connection);
store.connection.extractStatements = (sql) => {
  if (sql.includes("pipelines/sql/" + step + ".sql")) process.kill(process.pid, "SIGKILL");
  return extract(sql);
};
await ingest(workspace, store.connection, { today: "2024-12-31" });
store.close();
`;
