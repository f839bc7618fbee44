import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookBytes, rowXml } from "../ingest/export/workbook-bytes.ts";
import { CARD_HEADER } from "../ingest/scratch-workspace.ts";
import { messyWorkspace } from "./messy-workspace.ts";
import { runProgram } from "./run-program.ts";

let shared = "";
beforeAll(async () => {
  shared = await messyWorkspace();
});
afterAll(() => rmSync(shared, { recursive: true, force: true }));

/** A copy that a test may change. */
function ownCopy(): string {
  const folder = mkdtempSync(join(tmpdir(), "framelife-own-"));
  cpSync(shared, folder, { recursive: true });
  return folder;
}

describe("framelife ingest that comes to a file at fault", () => {
  const halfway = () => {
    const folder = ownCopy();
    writeFileSync(
      join(folder, "exports/cards-3.csv"),
      `${CARD_HEADER}\nJ7,F7,03/01/2020,05/01/2020,1000,failed,4,Y,bad\n`,
    );
    writeFileSync(join(folder, "exports/rounds.csv"), "Frame,Read\nF1,2020-09-01\n");
    return folder;
  };

  it("prints what was read before it, then the error", async () => {
    const ran = await runProgram(halfway(), "ingest");
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(/rounds\.yaml.* has no column "Meter"/);
    expect(ran.out).toMatch(
      /^1 file was read before the error below and is kept; once that is mended, "framelife ingest" goes on from there\.\n\nfile +read/,
    );
    expect(ran.out).toMatch(/\nexports\/cards-3\.csv +1 +0 +0 +0 +0 +0 +1 /);
    expect(ran.out).not.toContain("cards-1.csv");
  });

  it("says the same in run", async () => {
    const ran = await runProgram(halfway(), "run");
    expect(ran).toMatchObject({ status: 1 });
    expect(ran.out).toContain("1 file was read before the error below");
  });

  it("prints nothing of the kind where nothing was read, or JSON is asked for", async () => {
    const folder = halfway();
    expect((await runProgram(folder, "ingest", "--json")).out).toBe("");
    expect(await runProgram(folder, "ingest")).toMatchObject({ status: 1, out: "" });
  });
});

describe("framelife ingest of several states of a file", () => {
  it("says which is which", async () => {
    const folder = ownCopy();
    for (const hours of ["3100", "3200"]) {
      writeFileSync(join(folder, "exports/rounds.csv"), `Frame,Read,Meter\nF1,2020-09-01,${hours}\n`);
      await runProgram(folder, "ingest");
    }
    const pipeline = join(folder, "pipelines/rounds.yaml");
    writeFileSync(pipeline, `${readFileSync(pipeline, "utf8")}  meter_changed: { value: "no" }\n`);
    const { out } = await runProgram(folder, "ingest", "rounds");
    const names = out
      .split("\n")
      .flatMap((line) => /^exports\/rounds\.csv(?:, \S+ state(?: \d of \d)?)?(?= {2})/.exec(line) ?? []);
    expect(names.toSorted()).toEqual([
      "exports/rounds.csv",
      "exports/rounds.csv, older state 1 of 2",
      "exports/rounds.csv, older state 2 of 2",
    ]);
  });
});

describe("framelife ingest of a workbook", () => {
  it("names the sheet that is there no more, and of which records are wanting or set aside", async () => {
    const folder = ownCopy();
    const pipeline = join(folder, "pipelines/rounds.yaml");
    const text = readFileSync(pipeline, "utf8");
    writeFileSync(pipeline, text.replace("files: exports/rounds.csv", 'files: exports/rounds.xlsx\nsheet: ["20*"]'));
    const header = rowXml(1, ["Frame", "Read", "Meter"]);
    const write = (sheets: Record<string, string[]>) =>
      writeFileSync(
        join(folder, "exports/rounds.xlsx"),
        bookBytes({
          sheets: Object.entries(sheets).map(([name, row]) => ({ name, rows: `${header}${rowXml(2, row)}` })),
        }),
      );
    write({ "2020": ["F1", "2020-09-01", "3000"], "2021": ["F1", "2021-12-01", "8000"] });
    rmSync(join(folder, "exports/rounds.csv"));
    await runProgram(folder, "ingest", "--forget");
    write({ "2020": ["F1", "2020-09-01", "-3000"], "2021 final": ["F1", "2021-12-01", "8000"] });
    const { out } = await runProgram(folder, "ingest");
    expect(out).toContain(
      'Careful: exports/rounds.xlsx, sheet "2020" was exported again without 1 record of its older state, or with it in quarantine; kept until',
    );
    const forgot = await runProgram(folder, "ingest", "--forget", "--json");
    expect(JSON.parse(forgot.out).forgotten).toEqual([
      { path: "exports/rounds.xlsx", sheet: "2020", olderState: true },
      { path: "exports/rounds.xlsx", sheet: "2021", olderState: false },
    ]);
    write({ "2021 final": ["F1", "2021-12-01", "8000"] });
    const { out: last } = await runProgram(folder, "ingest", "--forget");
    expect(last).toContain('\nForgotten: exports/rounds.xlsx, sheet "2020" and its rows');
  });
});

describe("framelife ingest of a pattern that finds a folder", () => {
  it("says that it is passed over", async () => {
    const folder = ownCopy();
    mkdirSync(join(folder, "exports/cards-old.csv"));
    const ran = await runProgram(folder, "ingest");
    expect(ran).toMatchObject({ status: 0, err: "" });
    expect(ran.out).toContain(
      'Careful: exports/cards-old.csv, found by "exports/cards*.csv" of pipeline cards, is a folder and was passed over; name the files in it ("exports/cards-old.csv/*"), or move it away',
    );
    expect(JSON.parse((await runProgram(folder, "ingest", "--json")).out).folders).toEqual([
      { path: "exports/cards-old.csv", pattern: "exports/cards*.csv", pipeline: "cards" },
    ]);
    expect((await runProgram(folder, "ingest", "rounds")).out).not.toContain("cards-old");
  });

  it("says nothing of folders whose files the pattern reads, or whose own pattern does", async () => {
    const folder = ownCopy();
    mkdirSync(join(folder, "exports/2021"));
    cpSync(join(folder, "exports/rounds.csv"), join(folder, "exports/2021/rounds.csv"));
    const pipeline = join(folder, "pipelines/rounds.yaml");
    const text = readFileSync(pipeline, "utf8");
    writeFileSync(pipeline, text.replace("files: exports/rounds.csv", 'files: ["exports/2*/**"]'));
    expect((await runProgram(folder, "ingest", "rounds")).out).not.toContain("is a folder");
    writeFileSync(pipeline, text.replace("files: exports/rounds.csv", 'files: ["exports/2*", "exports/2*/*.csv"]'));
    expect((await runProgram(folder, "ingest", "rounds")).out).not.toContain("is a folder");
  });
});
