import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import { builtProgram } from "../ingest/built-program.ts";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "../ingest/scratch-workspace.ts";
import { runProgram } from "./run-program.ts";

const program = builtProgram();

const card = (number: number) => `${number},FA-${number % 500},13/02/2023,15/02/2023,10,failed,5,Y,bad`;
const cards = (count: number) =>
  [CARD_HEADER, ...Array.from({ length: count }, (_, number) => card(number)), ""].join("\n");

/** Starts a command, ends it once `begun` says so, and tells how it ended. */
async function ended(folder: string, args: string[], begun: () => boolean, how: NodeJS.Signals) {
  const child = spawn(process.execPath, [program.script, ...args], { cwd: folder });
  let err = "";
  child.stderr.on("data", (part) => {
    err += String(part);
  });
  const closed = once(child, "close");
  const until = Date.now() + 60_000;
  while (!begun() && child.exitCode === null && Date.now() < until) await pause(5);
  child.kill(how);
  const [status, signal] = await closed;
  return { status, signal, err };
}

const asked = async (folder: string, sql: string) => JSON.parse((await runProgram(folder, "query", sql, "--json")).out);
const recordsIn = (folder: string) => asked(folder, "select count(*)::integer as n from records.rebuild");

describe("a command that is ended", () => {
  it.each(["SIGINT", "SIGTERM"] as const)(
    "while it reads, by %s, says what holds, and a file is kept whole or not at all",
    async (how) => {
      const { folder, write } = scratch(3);
      expect((await runProgram(folder, "ingest")).status).not.toBe(2);
      write(300_000);
      const store = join(folder, "store");
      const before = readdirSync(store).length;
      const stopped = await ended(folder, ["ingest"], () => readdirSync(store).length > before, how);
      expect(stopped).toMatchObject({ status: null, signal: how });
      expect(stopped.err).toBe(
        'Stopped: files that were read whole are kept, of the one under way nothing is; "framelife ingest" goes on from there\n',
      );
      expect([[{ n: 3 }], [{ n: 300_000 }]]).toContainEqual(await recordsIn(folder));
      const [{ files }] = await asked(folder, "select count(*)::integer as files from landing.file");
      write(4);
      expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0, err: "" });
      // The cards of a state that was kept stay: of each unit one, for the others say again what happened to it that day.
      expect(await recordsIn(folder)).toEqual([{ n: files > 1 ? 500 : 4 }]);
      expect(readdirSync(store).sort()).toEqual(["exports", "framelife.duckdb"]);
    },
  );

  it("while pages are made, says what holds, and the next run writes them", async () => {
    const folder = mkdtempSync(join(tmpdir(), "framelife-stopped-"));
    const report = join(folder, "demo/report");
    const aside = () => existsSync(report) && readdirSync(report).some((name) => name.startsWith(".writing-"));
    const stopped = await ended(folder, ["demo", "--out", "demo"], aside, "SIGINT");
    expect(stopped).toEqual({
      status: null,
      signal: "SIGINT",
      err: 'Stopped: the exports are read and kept; the answers and the pages are as they were; "framelife run" goes on from there\n',
    });
    expect(existsSync(join(report, "index.html"))).toBe(false);
    expect(program.run(folder, "run", "--workspace", "demo").status).toBe(0);
    expect(existsSync(join(report, "index.html"))).toBe(true);
    expect(aside()).toBe(false);
    rmSync(folder, { recursive: true });
  });
});

function scratch(count: number): { folder: string; write: (count: number) => void } {
  const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards(count) });
  workspace.configure("quarantine_limit: 0.9");
  return { folder: workspace.folder, write: (more) => workspace.write("exports/cards.csv", cards(more)) };
}
