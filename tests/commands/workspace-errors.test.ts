import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
  cpSync(fileURLToPath(new URL("../reference/valve-seats", import.meta.url)), folder, { recursive: true });
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function edit(file: string, change: (text: string) => string): void {
  const path = join(folder, file);
  const before = readFileSync(path, "utf8");
  const after = change(before);
  expect(after).not.toBe(before);
  writeFileSync(path, after);
}

const replaced = (from: string, to: string) => (text: string) => text.replace(from, to);
const hashOfStore = () =>
  createHash("sha256")
    .update(readFileSync(join(folder, "store/framelife.duckdb")))
    .digest("hex");

describe("a workspace at fault", () => {
  it.each([
    {
      what: "an unknown key",
      file: "framelife.yaml",
      change: replaced("clock: days", "klock: days"),
      says: ["framelife.yaml, line", "klock"],
    },
    {
      what: "a wrong value",
      file: "framelife.yaml",
      change: replaced("clock: days", "clock: weeks"),
      says: ["framelife.yaml, line 4", "clock"],
    },
    {
      what: "broken YAML",
      file: "framelife.yaml",
      change: replaced("fleets:", "fleets: ["),
      says: ["framelife.yaml, line", "mend the YAML"],
    },
    {
      what: "a pipeline that is not there",
      file: "framelife.yaml",
      change: replaced("[engines, ", "[motors, "),
      says: ['pipeline "motors"'],
    },
    {
      what: "an unknown unit",
      file: "pipelines/replacements.yaml",
      change: replaced('value: "yes" }', 'value: "yes", unit: furlong }'),
      says: ["replacements.yaml, line", "unit"],
    },
    {
      what: "an unknown column",
      file: "pipelines/replacements.yaml",
      change: replaced("column: Engine", "column: Motor"),
      says: ["replacements.yaml", "Motor", "Engine"],
    },
    {
      what: "files that are not there",
      file: "pipelines/replacements.yaml",
      change: replaced("exports/replacements.csv", "exports/replaced.csv"),
      says: ["exports/replaced.csv"],
    },
    {
      what: "an unknown fleet",
      file: "pipelines/replacements.yaml",
      change: replaced("value: engines", "value: motors"),
      says: ["motors", "engines"],
    },
    {
      what: "an empty export",
      file: "exports/replacements.csv",
      change: () => "",
      says: ["replacements.csv", "empty"],
    },
  ])("is told of $what with file and remedy, and its store stays as it was", async ({ file, change, says }) => {
    expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0 });
    const before = hashOfStore();
    edit(file, change);
    const ran = await runProgram(folder, "ingest");
    expect(ran.status).toBe(1);
    for (const word of says) expect(ran.err).toContain(word);
    expect(ran.err).not.toMatch(/\bat .+:\d+:\d+|undefined|\[object/);
    expect(hashOfStore()).toBe(before);
  });

  it("is told that there is none", async () => {
    const empty = mkdtempSync(join(tmpdir(), "framelife-"));
    const ran = await runProgram(empty, "life");
    expect(ran.status).toBe(1);
    expect(ran.err).toContain("Cannot find a workspace: no framelife.yaml");
    rmSync(empty, { recursive: true });
  });

  it("is told to ingest first", async () => {
    const ran = await runProgram(folder, "life");
    expect(ran.status).toBe(1);
    expect(ran.err).toContain('run "framelife ingest"');
  });

  it.each([
    { args: ["life", "--fleet", "boats"], says: 'Cannot answer for fleet "boats"' },
    { args: ["life", "--slot", "rotor"], says: 'Cannot answer for slot "rotor"' },
    { args: ["intervals", "--by", "colour"], says: 'Cannot group by "colour"' },
    { args: ["life", "--as-of", "2002-02-30"], says: "YYYY-MM-DD" },
    { args: ["life", "--colour"], says: "unknown option" },
    { args: ["lives"], says: "unknown command" },
  ])("is told of wrong usage, $args, with status 2", async ({ args, says }) => {
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, ...args);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(says);
  });

  it("exits 3 above the quarantine limit, and still keeps the good rows and writes the pages", async () => {
    edit("exports/replacements.csv", (text) => text.replaceAll("2000-1", "soon-1"));
    const ran = await runProgram(folder, "run");
    expect(ran.status).toBe(3);
    expect(ran.out).toContain("over the limit of 5 %");
    expect(existsSync(join(folder, "report/index.html"))).toBe(true);
    expect((await runProgram(folder, "intervals")).status).toBe(0);
  });
});

describe("a fleet that hardly fails", () => {
  const header = "Card,Engine,Replaced on\n";

  it("gets a plain sentence where nothing failed", async () => {
    writeFileSync(join(folder, "exports/replacements.csv"), header);
    expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0, err: "" });
    const life = await runProgram(folder, "life");
    expect(life.status).toBe(0);
    expect(life.out).toMatch(/^Valve seat at Diesel engines: no answer yet from 0 failures in 41 lives/);
    const intervals = await runProgram(folder, "intervals");
    // By hand: 25,363 days watched in all, one-sided 95 % lower limit T / -ln(0.05) = 8,466: NIST/SEMATECH e-Handbook 8.4.5.1 (formula)
    expect(intervals.out).toMatch(/^Diesel engines: no rebuild for failure on record, .+ at least 8,470 days\./);
  });

  it("gets a plain sentence where one failed", async () => {
    writeFileSync(join(folder, "exports/replacements.csv"), `${header}R01,327,2000-04-08\n`);
    await runProgram(folder, "ingest");
    const life = await runProgram(folder, "life");
    expect(life.status).toBe(0);
    expect(life.out).toMatch(/^Valve seat at Diesel engines: no answer yet from 1 failure in 42 lives/);
    expect(await runProgram(folder, "report")).toMatchObject({ status: 0, err: "" });
  });
});
