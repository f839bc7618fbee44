import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterEach, describe, expect, it } from "vitest";
import { builtProgram } from "./built-program.ts";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const program = builtProgram();
const card = (number: number) => `${number},FA-${number},13/02/2023,15/02/2023,${1000 + number},failed,5,Y,bad`;
const cards = (count: number) =>
  [CARD_HEADER, ...Array.from({ length: count }, (_, index) => card(index)), ""].join("\n");

const mounted: string[] = [];
afterEach(() => {
  for (const folder of mounted.splice(0)) spawnSync("umount", [folder]);
});

/** A small file system of its own in the workspace's store folder; undefined where the system does not let us make one. */
function smallStore(workspace: ScratchWorkspace, size: string): string | undefined {
  const folder = join(workspace.folder, "store");
  mkdirSync(folder, { recursive: true });
  const made = spawnSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", folder]).status === 0;
  if (made) mounted.push(folder);
  return made ? folder : undefined;
}

const hashOf = (path: string) => createHash("sha256").update(readFileSync(path)).digest("hex");

describe("a full disk", () => {
  it("ends the ingest with what to do, and leaves the records as they were", (context) => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards-1.csv": cards(20) });
    const store = smallStore(workspace, "6m");
    if (store === undefined) return context.skip("no right to mount a small file system");
    expect(program.run(workspace.folder, "ingest", "--quiet").stderr).toBe("");
    const before = program.run(
      workspace.folder,
      "query",
      "select * from records.rebuild order by card",
      "--json",
    ).stdout;
    const filler = join(store, "filler");
    spawnSync("sh", ["-c", `dd if=/dev/zero of='${filler}' bs=64k 2>/dev/null`]);
    workspace.write("exports/cards-2.csv", cards(20_000));
    const full = program.run(workspace.folder, "ingest", "--quiet");
    expect(full.status).toBe(1);
    expect(full.stderr).toMatch(/^Cannot .*(make room|room)/s);
    expect(full.stderr).not.toContain("    at ");
    spawnSync("rm", [filler]);
    expect(program.run(workspace.folder, "query", "select * from records.rebuild order by card", "--json").stdout).toBe(
      before,
    );
  });
});

describe("a folder that can't be written to", () => {
  it("is named, with the remedy", (context) => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards(2) });
    const store = smallStore(workspace, "20m");
    if (store === undefined) return context.skip("no right to mount a small file system");
    spawnSync("mount", ["-o", "remount,ro", store]);
    const { status, stderr } = program.run(workspace.folder, "ingest", "--quiet");
    expect(status).toBe(1);
    expect(stderr).toMatch(/^Cannot .*store.*;/s);
    expect(stderr).not.toContain("    at ");
  });
});

describe("a file that can't be read", () => {
  it("is named, and those before it stay", (context) => {
    if (process.getuid?.() !== 0) return context.skip("only root can become someone who may not read");
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards-1.csv": cards(2), "exports/cards-2.csv": cards(3) },
    );
    spawnSync("chown", ["-R", "65534", workspace.folder]);
    spawnSync("sh", ["-c", `chmod 755 '${join(workspace.folder, "..")}' '${workspace.folder}'`]);
    spawnSync("chown", ["0", join(workspace.folder, "exports/cards-2.csv")]);
    spawnSync("chmod", ["600", join(workspace.folder, "exports/cards-2.csv")]);
    const { status, stderr } = program.runAs(65534, workspace.folder, "ingest", "--quiet");
    expect(stderr).toContain("exports/cards-2.csv");
    expect(stderr).toMatch(/permission/i);
    expect(status).toBe(1);
    const held = program.run(workspace.folder, "query", "select count(*) as n from records.rebuild", "--json");
    expect(JSON.parse(held.stdout)).toEqual([{ n: 2 }]);
  });
});

describe("two at once", () => {
  it("the second ingest waits, names the first and changes nothing", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards(2) });
    expect(program.run(workspace.folder, "ingest", "--quiet").status).toBe(0);
    await workspace.connection(); // this process holds the store now
    const { status, stderr } = program.run(workspace.folder, "ingest", "--quiet");
    expect(status).toBe(1);
    expect(stderr).toContain(`is in use by process ${process.pid}`);
    expect(await workspace.lines("select count(*) from records.rebuild")).toEqual(["2"]);
  });

  it("both end well where the first is done in time", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards(5000) });
    const first = program.start(workspace.folder, "ingest", "--quiet");
    const second = program.start(workspace.folder, "ingest", "--quiet");
    for (let waited = 0; (first.exitCode === null || second.exitCode === null) && waited < 60_000; waited += 100)
      await pause(100);
    expect([first.exitCode, second.exitCode]).toEqual([0, 0]);
    expect(await workspace.lines("select count(*) from records.rebuild")).toEqual(["5000"]);
  });
});

describe("a store that is damaged", () => {
  it("is refused with the remedy, and left as it is", () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards(2) });
    expect(program.run(workspace.folder, "ingest", "--quiet").status).toBe(0);
    const path = join(workspace.folder, "store/framelife.duckdb");
    expect(existsSync(path)).toBe(true);
    const bytes = readFileSync(path);
    bytes.fill(0x5a, 0, 8192);
    writeFileSync(path, bytes);
    const before = hashOf(path);
    const { status, stderr } = program.run(workspace.folder, "ingest", "--quiet");
    expect(status).toBe(1);
    expect(stderr).toMatch(/is not a store, or is damaged.*move this one away/);
    expect(hashOf(path)).toBe(before);
  });
});
