import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { AuditAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";

const CARDS = `
title: Job cards
record: rebuild
files: exports/cards.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Frame }
  removed_on: { column: Out, dates: ["%d/%m/%Y"] }
slots:
  drive_end_bearings:
    condition: { column: DE found, words: { bad: failed } }
`;

const PARTS = `
title: Parts
record: part
files: exports/parts.csv
fields:
  part: { column: Part }
`;

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-undated-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function workspace(pipelines: Record<string, string>, exports: Record<string, string>, more = ""): void {
  const configuration = `
title: Quillhaven bearing-frame shop
fleets: [{ name: saltmere, title: Saltmere }]
slots: { drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing } }
pipelines: [${Object.keys(pipelines).join(", ")}]
${more}`;
  const named = Object.entries(pipelines).map(([name, text]) => [`pipelines/${name}.yaml`, text] as const);
  for (const [path, text] of [["framelife.yaml", configuration] as const, ...named, ...Object.entries(exports)]) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
}

const UNDATABLE = "Card,Frame,Out,DE found\nJ1,F1,spring 2020,bad\nJ2,F2,sometime,bad\n";

describe("a store in which no record has a date", () => {
  it("gets its account, its data-quality page and an index that says why there is no life, from run", async () => {
    workspace({ cards: CARDS }, { "exports/cards.csv": UNDATABLE }, "quarantine_limit: 1\n");
    const ran = await runProgram(folder, "run");
    expect(ran).toMatchObject({ status: 1, err: "" });
    expect(ran.out.split("\n")[0]).toBe(
      'There is no life yet, for no record has a date: a text that is no day of the patterns declared, 2 times, as removed_on "spring 2020" at exports/cards.csv:2: no date of the form %d/%m/%Y; correct it, or add its pattern to "dates".',
    );
    expect(ran.out).toContain("2 rows in 1 file: 0 became records, 2 are in quarantine.");
    expect(ran.out).toContain("3 pages: open file://");
    expect(existsSync(join(folder, "report/fleet-saltmere.html"))).toBe(false);
    const index = readFileSync(join(folder, "report/index.html"), "utf8");
    expect(index).toContain("There is no life yet, for no record has a date");
    expect(index).toContain("add its pattern to");
    expect(index).toContain("data-quality.html");
    expect(index).not.toMatch(/null|undefined/);
    const quality = readFileSync(join(folder, "report/data-quality.html"), "utf8");
    expect(quality).toContain("spring 2020");
    expect(quality).not.toMatch(/>null|undefined/);
  });

  it("ends with status 3 where the quarantine is over the limit, too", async () => {
    workspace({ cards: CARDS }, { "exports/cards.csv": UNDATABLE });
    expect(await runProgram(folder, "run")).toMatchObject({ status: 3, err: "" });
    expect(await runProgram(folder, "report")).toMatchObject({ status: 3, err: "" });
  });

  it("gets the same pages from report, and forgets what an earlier run answered", async () => {
    workspace({ cards: CARDS }, { "exports/cards.csv": "Card,Frame,Out,DE found\nJ1,F1,01/02/2020,bad\n" });
    expect(await runProgram(folder, "run")).toMatchObject({ status: 0 });
    const kept = async () => JSON.parse((await runProgram(folder, "query", "from results.answer", "--json")).out);
    expect(await kept()).toHaveLength(4);
    writeFileSync(join(folder, "exports/cards.csv"), UNDATABLE);
    await runProgram(folder, "ingest");
    await runProgram(folder, "ingest", "--forget");
    const ran = await runProgram(folder, "report", "--out", "pages");
    expect(ran).toMatchObject({ status: 3, err: "" });
    expect(ran.out).toContain("3 pages: open file://");
    await runProgram(folder, "run");
    expect(await kept()).toEqual([]);
  });

  it("says of exports without any day what is wanting", async () => {
    workspace({ parts: PARTS }, { "exports/parts.csv": "Part\nB1\n" });
    const ran = await runProgram(folder, "run");
    expect(ran).toMatchObject({ status: 1, err: "" });
    expect(ran.out.split("\n")[0]).toBe(
      "There is no life yet, for no record has a date: none of the exports read tells a day of a rebuild, a list of units, a meter round or a retirement; add the pipeline of one that does, or map its column of dates.",
    );
  });

  it("keeps a clear message for single questions", async () => {
    workspace({ cards: CARDS }, { "exports/cards.csv": UNDATABLE });
    await runProgram(folder, "ingest");
    for (const question of ["life", "intervals"]) {
      const ran = await runProgram(folder, question);
      expect(ran).toMatchObject({ status: 1, out: "" });
      expect(ran.err).toBe(
        'Cannot derive lives: no record in the store has a date; "framelife audit" says what became of each row, and what to mend\n',
      );
    }
  });

  it("has why in the audit, null where there are lives", async () => {
    workspace({ cards: CARDS }, { "exports/cards.csv": UNDATABLE });
    await runProgram(folder, "ingest");
    const audit = async (...options: string[]) =>
      AuditAnswerSchema.parse(JSON.parse((await runProgram(folder, "audit", "--json", ...options)).out));
    const { noLives, warnings } = await audit("--limit", "0");
    expect(noLives).toMatch(/^There is no life yet, .* correct it, or add its pattern to "dates"\.$/);
    expect(warnings.join()).not.toContain("no record has a date");
    expect((await runProgram(folder, "audit")).out.split("\n").slice(0, 3).join(" ")).toContain("There is no life yet");
    writeFileSync(join(folder, "exports/cards.csv"), "Card,Frame,Out,DE found\nJ1,F1,01/02/2020,bad\n");
    await runProgram(folder, "ingest");
    expect((await audit()).noLives).toBeNull();
  });
});
