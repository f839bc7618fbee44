import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { readdirSync, readFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterEach, describe, expect, it } from "vitest";
import { builtProgram } from "../ingest/built-program.ts";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "../ingest/scratch-workspace.ts";

const program = builtProgram();
const LONG = { timeout: 60_000, interval: 50 };

const cards = (count: number) =>
  [
    CARD_HEADER,
    ...Array.from({ length: count }, (_, number) => `${number},FA-${number},13/02/2023,15/02/2023,10,failed,5,Y,bad`),
    "",
  ].join("\n");

function workspaceOf(count: number): ScratchWorkspace {
  const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards(count) });
  workspace.configure("quarantine_limit: 0.5");
  return workspace;
}

const started: ChildProcess[] = [];
afterEach(() => {
  for (const child of started.splice(0)) child.kill("SIGKILL");
});

type Watch = { child: ChildProcess; out: () => string; ended: Promise<unknown[]> };

function watch(folder: string): Watch {
  const child = spawn(process.execPath, [program.script, "report", "--watch"], { cwd: folder });
  started.push(child);
  let out = "";
  for (const stream of [child.stdout, child.stderr]) {
    stream.on("data", (part) => {
      out += String(part);
    });
  }
  return { child, out: () => out, ended: once(child, "close") };
}

const portIn = (text: string) => Number(/127\.0\.0\.1:(\d+)/.exec(text)?.[1]);

/** Processes that a process has started and that have not ended. */
function childrenOf(pid: number | undefined): number[] {
  return readFileSync(`/proc/${pid}/task/${pid}/children`, "utf8").split(" ").filter(Boolean).map(Number);
}

async function canListen(port: number): Promise<boolean> {
  const server = createServer().listen(port, "127.0.0.1");
  const way = await Promise.race([once(server, "listening").then(() => true), once(server, "error").then(() => false)]);
  server.close();
  return way;
}

describe("a watch that is ended", () => {
  it.each([
    { signal: "SIGINT", status: 130 },
    { signal: "SIGTERM", status: 143 },
    { signal: "SIGHUP", status: 129 },
  ] as const)("by $signal while it waits lets go of all and ends with $status", async ({ signal, status }) => {
    const { folder } = workspaceOf(3);
    const { child, out, ended } = watch(folder);
    await expect.poll(out, LONG).toContain("pages");
    await expect.poll(out, LONG).toContain("index.html");
    child.kill(signal);
    expect(await ended).toEqual([status, null]);
    expect(await canListen(portIn(out()))).toBe(true);
    expect(readdirSync(join(folder, "store")).sort()).toEqual(["exports", "framelife.duckdb"]);
  });

  it("by SIGINT while it reads ends the reading too, at once, and the store is free and whole", async (context) => {
    if (process.platform !== "linux") return context.skip("children of a process are looked up in /proc");
    const { folder } = workspaceOf(200_000);
    const { child, out, ended } = watch(folder);
    await expect.poll(out, LONG).toContain("127.0.0.1");
    await expect.poll(() => childrenOf(child.pid), LONG).toHaveLength(1);
    const [reading] = childrenOf(child.pid);
    await pause(1_500);
    const begun = performance.now();
    child.kill("SIGINT");
    expect(await ended).toEqual([130, null]);
    expect(performance.now() - begun).toBeLessThan(3_000);
    await expect.poll(() => readdirSync("/proc").includes(String(reading)), LONG).toBe(false);
    expect(out()).not.toContain("Cannot");
    expect(program.run(folder, "ingest", "--quiet")).toMatchObject({ status: 0, stderr: "" });
    const held = program.run(folder, "query", "select count(*)::integer as n from records.rebuild", "--json");
    expect(JSON.parse(held.stdout)).toEqual([{ n: 200_000 }]);
  });

  it("by SIGKILL leaves a claim that the next one passes over", async () => {
    const { folder } = workspaceOf(3);
    const first = watch(folder);
    await expect.poll(first.out, LONG).toContain("index.html");
    first.child.kill("SIGKILL");
    await first.ended;
    expect(readdirSync(join(folder, "store"))).toContain("framelife.duckdb.watch");
    const second = watch(folder);
    await expect.poll(second.out, LONG).toContain("index.html");
    second.child.kill("SIGINT");
    expect(await second.ended).toEqual([130, null]);
  });
});

describe("a store in use", () => {
  it("is told, and read when it is free, without a change of any file", async () => {
    const workspace = workspaceOf(3);
    await workspace.connection(); // this process holds the store now
    const { child, out, ended } = watch(workspace.folder);
    await expect.poll(out, LONG).toContain(`is in use by process ${process.pid}`);
    workspace.close();
    await expect.poll(out, LONG).toContain("index.html");
    child.kill("SIGINT");
    await ended;
  });
});
