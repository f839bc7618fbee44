import { createHash } from "node:crypto";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { columns } from "../../src/store/columns.ts";
import { openStore } from "../../src/store/open-store.ts";
import { CARD_HEADER } from "../ingest/scratch-workspace.ts";
import { AuditAnswerSchema, TraceAnswerSchema } from "../questions/answer-schema.ts";
import { messyWorkspace } from "./messy-workspace.ts";
import { runProgram } from "./run-program.ts";

const PARTS = `
title: Parts
record: part
files: exports/parts.csv
fields:
  part: { column: Part }
`;

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

async function audit(folder: string, ...options: string[]) {
  const ran = await runProgram(folder, "audit", "--json", ...options);
  expect(ran.err).toBe("");
  return AuditAnswerSchema.parse(JSON.parse(ran.out));
}

describe("framelife audit", () => {
  it("accounts for every row, per file and per pipeline", async () => {
    const { answer, rows, files, pipelines } = await audit(shared);
    // By hand: six rows of cards-1, one of cards-2, two of rounds, three and two of the long cards
    expect(rows).toMatchObject({
      files: 5,
      read: 14,
      notData: 1,
      quarantined: 1,
      duplicate: 1,
      superseded: 3,
      balances: true,
    });
    expect(rows.accepted + rows.corrected).toBe(8);
    expect(answer).toContain("Of 14 rows in 5 files 8 became records; 1 is in quarantine");
    expect(files.find(({ name }) => name === "exports/cards-1.csv")).toMatchObject({
      read: 6,
      notData: 1,
      quarantined: 1,
      duplicate: 1,
      superseded: 1,
      accepted: 2,
      refusedValues: 1,
      state: "there",
    });
    expect(pipelines.map(({ pipeline, files, read }) => [pipeline, files, read])).toEqual([
      ["cards", 2, 7],
      ["rounds", 1, 2],
      ["long", 2, 5],
    ]);
  });

  it("counts rules with what they find, and gives examples that can be traced", async () => {
    const { rules, findings } = await audit(shared);
    expect(rules.map(({ rule, severity, count }) => [rule, severity, count])).toEqual([
      ["date_order", "quarantine", 1],
      ["out_of_range", "refuse", 1],
      ["own_unit", "fix", 1],
    ]);
    expect(rules[0]?.title).toBe("dates of one card in an order that can't be");
    expect(findings.find(({ rule }) => rule === "out_of_range")).toMatchObject({
      path: "exports/cards-1.csv",
      row: 7,
      field: "end_play",
      value: "99",
      trace: "exports/cards-1.csv:7#end_play",
    });
    expect(findings.find(({ rule }) => rule === "out_of_range")).toMatchObject({ column: "End play", cell: "99" });
    expect(findings.find(({ rule }) => rule === "date_order")).toMatchObject({ column: "Built", cell: "25/06/2021" });
    // 0.13 mm / 0.0254 mm: NIST SP 811
    expect(findings.find(({ rule }) => rule === "own_unit")).toMatchObject({
      column: "End play",
      cell: "0.13 mm",
      after: "5.11811 thou",
      message: "recorded as 5.11811 thou",
    });
    for (const { trace, path } of findings) {
      const traced = await runProgram(shared, "trace", trace, "--json");
      expect(TraceAnswerSchema.parse(JSON.parse(traced.out)).rows[0]?.path).toBe(path);
    }
    expect((await audit(shared, "--limit", "0")).findings).toEqual([]);
  });

  it("says how many records have each field, month by month", async () => {
    const { completeness } = await audit(shared);
    const of = (fleet: string, name: string) =>
      completeness.find(
        ({ record, field, ...other }) => record === "rebuild" && other.fleet === fleet && field === name,
      );
    // By hand: cards J1, J2 and F1 of saltmere, of which F1's 99 thou was left out
    expect(of("saltmere", "end_play")).toMatchObject({ records: 3, have: 2 });
    expect(of("saltmere", "end_play")?.months).toEqual([
      { month: "2020-01", records: 1, have: 1 },
      { month: "2020-02", records: 1, have: 0 },
      { month: "2021-06", records: 1, have: 1 },
    ]);
    expect(of("ostrel", "hours_removed")).toMatchObject({ records: 2, have: 0, share: 0 });
  });

  it("says what each gap costs, from the lives", async () => {
    const { answer, gaps } = await audit(shared);
    // By hand: at saltmere F1's bearings before J1 have no known start and failed; 1000 to 6000.5 h failed; the last runs; before card F1
    // the start is not known, what came out was serviceable, then runs. At ostrel F1 has no meter: what was in it at K1 was found
    // serviceable, that of K1 failed at K2, that of K2 runs. So of 3 failures 2 have no hours.
    const leftOut = gaps.filter(({ gap }) => gap === "left_out");
    expect(leftOut.map(({ failures }) => failures?.of)).toEqual(leftOut.map(() => 3));
    expect(leftOut.reduce((sum, { failures }) => sum + (failures?.count ?? 0), 0)).toBe(2);
    expect(answer).toContain("2 failures (67 % of 3) can't be used, for their hours are not known.");
    const noMeter = leftOut.find(({ reason }) => reason === "no_meter");
    expect(noMeter?.sentence).toContain(
      "for the unit has no meter reading at all: 1 failure (33 % of 3) can't be used.",
    );
    expect(gaps.find(({ gap }) => gap === "no_list")?.fleets.map(({ fleet }) => fleet)).toEqual(["ostrel", "saltmere"]);
    expect(gaps.find(({ gap }) => gap === "no_rounds")?.sentence).toMatch(/^Ostrel: no meter rounds/);
    expect(gaps.find(({ gap }) => gap === "no_position")?.missing).toEqual({ count: 5, of: 5, share: 1 });
  });

  it("lists the records behind each gap by its command", async () => {
    const { gaps } = await audit(shared);
    expect(gaps.length).toBeGreaterThan(4);
    for (const { gap, rows, missing } of gaps.filter(({ what }) => what !== "fleets")) {
      const [, day = "", sql = ""] = /^framelife query --as-of (\S+) "(.*)"$/.exec(rows) ?? [];
      const listed = await runProgram(shared, "query", "--as-of", day, sql, "--json");
      expect(JSON.parse(listed.out), gap).toHaveLength(missing.count);
    }
  });

  it("looks at one fleet alone", async () => {
    const { fleet, files, gaps, completeness } = await audit(shared, "--fleet", "ostrel");
    expect(fleet).toBe("ostrel");
    expect(files.map(({ name }) => name)).toEqual(["exports/long.csv", "exports/long-again.csv"]);
    expect(new Set(gaps.flatMap((gap) => gap.fleets.map((one) => one.fleet)))).toEqual(new Set(["ostrel"]));
    expect(new Set(completeness.map((one) => one.fleet))).toEqual(new Set(["ostrel"]));
    for (const { rows } of gaps) expect(rows).toMatch(/fleet = 'ostrel'"$/);
    const wrong = await runProgram(shared, "audit", "--fleet", "quarry");
    expect(wrong).toMatchObject({ status: 2 });
    expect(wrong.err).toContain("names saltmere, ostrel");
  });

  it("says what is true of a fleet of which nothing was read", async () => {
    const folder = ownCopy();
    const configuration = join(folder, "framelife.yaml");
    writeFileSync(
      configuration,
      readFileSync(configuration, "utf8").replace("fleets: [", "fleets: [{ name: vennick, title: Vennick }, "),
    );
    const { answer, files, noLives } = await audit(folder, "--fleet", "vennick");
    expect(answer).toBe("None of the 5 files read has a row of fleet vennick; they are of ostrel and saltmere.");
    expect({ files, noLives }).toEqual({ files: [], noLives: null });
    // Parts are of no fleet: they are told of with each
    writeFileSync(join(folder, "pipelines/parts.yaml"), PARTS);
    writeFileSync(join(folder, "exports/parts.csv"), "Part\nB1\n");
    writeFileSync(
      configuration,
      readFileSync(configuration, "utf8").replace("[cards, rounds, long]", "[cards, rounds, long, parts]"),
    );
    await runProgram(folder, "ingest");
    const again = await audit(folder, "--fleet", "vennick");
    expect(again.answer).toBe("Of 1 row in 1 file 1 became a record; 0 are in quarantine.");
    expect(again.warnings).toContain(
      "no row that was read is of fleet vennick; the files told of here are of no fleet",
    );
  });

  it("ends with status 3 where a file is over the limit, and still answers", async () => {
    const folder = ownCopy();
    writeFileSync(
      join(folder, "framelife.yaml"),
      readFileSync(join(folder, "framelife.yaml"), "utf8").replace("quarantine_limit: 0.5", "quarantine_limit: 0.1"),
    );
    const ran = await runProgram(folder, "audit", "--json");
    expect(ran.status).toBe(3);
    const { overLimit, warnings, limit } = AuditAnswerSchema.parse(JSON.parse(ran.out));
    expect({ overLimit, limit }).toEqual({ overLimit: ["exports/cards-1.csv"], limit: 0.1 });
    // By hand: 6 rows less the total
    expect(warnings).toContain("exports/cards-1.csv has 1 of 5 rows in quarantine, over the limit of 10 %");
  });

  it("tells of files that are gone or replaced", async () => {
    const folder = ownCopy();
    rmSync(join(folder, "exports/cards-2.csv"));
    writeFileSync(join(folder, "exports/rounds.csv"), "Frame,Read,Meter\nF1,2020-09-01,3100\n");
    await runProgram(folder, "ingest");
    const { files, warnings } = await audit(folder);
    expect(files.filter(({ state }) => state !== "there").map(({ name, state }) => [name.slice(0, 19), state])).toEqual(
      [
        ["exports/cards-2.csv", "gone"],
        ["exports/rounds.csv@", "replaced"],
      ],
    );
    expect(warnings.join()).toContain(
      'exports/cards-2.csv is no longer there; its 1 record is kept until "framelife ingest --forget"',
    );
  });

  it("writes every finding to a CSV file in which nothing can run", async () => {
    const folder = ownCopy();
    writeFileSync(
      join(folder, "exports/cards-3.csv"),
      `${CARD_HEADER}\n9,F9,03/01/2020,05/01/2020,"=HYPERLINK(""x"")",failed,4,Y,bad\n`,
    );
    await runProgram(folder, "ingest");
    await runProgram(folder, "audit", "--csv", "findings.csv");
    const lines = readFileSync(join(folder, "findings.csv"), "utf8").trimEnd().split("\r\n");
    expect(lines[0]).toBe("file,sheet,row,field,column,value,recorded_as,rule,severity,message,trace");
    expect(lines.find((line) => line.includes("own_unit"))).toContain(",end_play,End play,0.13 mm,5.11811 thou,");
    expect(lines).toHaveLength(1 + 4);
    expect(lines.at(-1)).toMatch(/^exports\/cards-3\.csv,,2,hours_removed,Meter,"'=HYPERLINK\(""x""\)",,not_a_number,/);
  });

  it("answers of a store in which no record has a date", async () => {
    const folder = ownCopy();
    for (const file of ["cards-1", "cards-2", "long", "long-again", "rounds"])
      rmSync(join(folder, `exports/${file}.csv`));
    rmSync(join(folder, "store"), { recursive: true });
    writeFileSync(
      join(folder, "framelife.yaml"),
      readFileSync(join(folder, "framelife.yaml"), "utf8").replace("[cards, rounds, long]", "[cards]"),
    );
    writeFileSync(join(folder, "exports/cards-1.csv"), `${CARD_HEADER}\nJ1,F1,sometime,,1000,failed,4,Y,bad\n`);
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, "audit", "--json");
    expect(ran.status).toBe(3);
    const { answer, asOf, gaps } = AuditAnswerSchema.parse(JSON.parse(ran.out));
    expect({ asOf, gaps }).toEqual({ asOf: null, gaps: [] });
    expect(answer).toBe("Of 1 row in 1 file 0 became records; 1 is in quarantine.");
  });

  it("tells what became of the corrections, and goes on without a file that can't be read", async () => {
    const folder = ownCopy();
    const known = "record,fleet,id,field,old,new,reason,by";
    const lines = ["J2,end_play,5,4", "J2,end_play,6,4", "J9,end_play,5,4"].map((line) => {
      const [id, field, old, now] = line.split(",");
      return `rebuild,saltmere,${id},${field},${old},${now},card read again,shop`;
    });
    writeFileSync(join(folder, "corrections.csv"), `${[known, lines[0], lines[2]].join("\n")}\n`);
    await runProgram(folder, "ingest");
    const { corrections } = await audit(folder);
    expect(corrections.applied).toBe(1);
    expect(corrections.unmatched).toHaveLength(1);
    expect(corrections.unmatched[0]).toContain('"J9"');
    expect(corrections.stale).toEqual([]);
    writeFileSync(join(folder, "corrections.csv"), `${[known, lines[1]].join("\n")}\n`);
    await runProgram(folder, "ingest");
    expect((await audit(folder)).corrections.stale[0]).toContain(
      'end_play of rebuild "J2" of saltmere is not "6" any more',
    );
    writeFileSync(join(folder, "corrections.csv"), `${known}\nengine,,J2,end_play,5,4,,\n`);
    expect((await audit(folder)).warnings.join()).toContain('"engine" is no record');
  });

  it("tells corrections that were taken from those that the export says by now, and lists both", async () => {
    const folder = ownCopy();
    writeFileSync(
      join(folder, "corrections.csv"),
      [
        "record,fleet,id,field,old,new,reason,by",
        "rebuild,saltmere,J2,end_play,5,4,card read again,shop",
        "rebuild,,J1,reason,hours up,failed,owner rang up,store",
        "reading,saltmere,F1 2020-09-01,hours,3000,3010,slip of the pen,owner",
        "rebuild,saltmere,J2,reason,sold,failed,owner rang up,store",
        "rebuild,saltmere,J9,end_play,5,4,card read again,shop",
        "rebuild,ostrel,K2,drive_end_bearings.condition,bad,good,photo,shop",
        "",
      ].join("\n"),
    );
    await runProgram(folder, "ingest");
    const { corrections } = await audit(folder);
    expect(corrections).toMatchObject({ applied: 3, settled: 1 });
    expect(corrections.lines).toHaveLength(6);
    expect(corrections.lines[0]).toEqual({
      line: 2,
      outcome: "applied",
      record: "rebuild",
      fleet: "saltmere",
      id: "J2",
      field: "end_play",
      old: "5",
      new: "4",
      reason: "card read again",
      by: "shop",
      rows: ["exports/cards-2.csv:2"],
    });
    expect(corrections.lines.map(({ line, outcome }) => [line, outcome])).toEqual([
      [2, "applied"],
      [3, "settled"],
      [4, "applied"],
      [5, "stale"],
      [6, "unmatched"],
      [7, "applied"],
    ]);
    expect(corrections.lines[2]).toMatchObject({ id: "F1 2020-09-01", rows: ["exports/rounds.csv:2"] });
    const { out } = await runProgram(folder, "audit");
    expect(out).toContain(
      "Corrections and aliases\n3 corrections applied; 1 says what the export says by now; 1 whose old value stands there no more; 1 that no record answers to\n",
    );
    expect(out).toMatch(
      /\n2 +applied +rebuild saltmere\/J2 +end_play +"5" -> "4" +card read again +shop +exports\/cards-2\.csv:2\n/,
    );
    expect(out).toContain('End play "5" -> "4" (line 2 of corrections.csv: card read again (shop))');
    const ostrel = (await audit(folder, "--fleet", "ostrel")).corrections;
    expect(ostrel).toMatchObject({ applied: 1, settled: 0, stale: [], unmatched: [] });
    expect(ostrel.lines.map(({ line }) => line)).toEqual([7]);
  });

  it("holds what it knows of corrections back where their exports are still to be read by them", async () => {
    const folder = ownCopy();
    const known = "record,fleet,id,field,old,new,reason,by";
    const lines = ["J1,end_play,4,3", "J2,end_play,5,4"].map((line) => `rebuild,saltmere,${line},card read again,shop`);
    writeFileSync(join(folder, "corrections.csv"), `${[known, ...lines].join("\n")}\n`);
    const before = await audit(folder);
    expect(before.corrections).toMatchObject({ applied: 0, waiting: 2, stale: [], unmatched: [] });
    expect(before.corrections.lines.map(({ outcome, rows }) => [outcome, rows])).toEqual([
      ["waiting", []],
      ["waiting", []],
    ]);
    const warning = before.warnings.find((text) => text.startsWith("the exports of cards, long were read before"));
    expect(warning).toContain('until "framelife ingest" reads them anew');
    const { out } = await runProgram(folder, "audit");
    expect(out).toContain("Corrections and aliases\n0 corrections applied; 2 wait for framelife ingest\n");
    expect(out).toContain(`Careful: ${warning}`);
    await runProgram(folder, "ingest");
    const after = await audit(folder);
    expect(after.corrections).toMatchObject({ applied: 2, waiting: 0 });
    expect(after.warnings.join()).not.toContain("read before");
    // J2 is in line 2 now, where the store has J1.
    writeFileSync(join(folder, "corrections.csv"), `${[known, lines[1]].join("\n")}\n`);
    expect((await audit(folder)).corrections.lines).toMatchObject([
      { line: 2, id: "J2", outcome: "waiting", rows: [] },
    ]);
    // Without the file there is no line to tell of, but J1 and J2 have its values still.
    rmSync(join(folder, "corrections.csv"));
    expect((await audit(folder)).warnings.join()).toContain("the exports of cards, long were read before");
  });

  it("says of a cell that a correction empties that nothing is recorded, and by which line", async () => {
    const folder = ownCopy();
    writeFileSync(
      join(folder, "corrections.csv"),
      "record,fleet,id,field,old,new,reason,by\nrebuild,saltmere,J2,end_play,5,,gauge was broken,shop\n",
    );
    await runProgram(folder, "ingest");
    const { findings } = await audit(folder);
    expect(findings.find(({ rule }) => rule === "correction")).toMatchObject({
      after: null,
      message: "recorded as nothing (line 2 of corrections.csv: gauge was broken (shop))",
    });
    const { out } = await runProgram(folder, "audit");
    expect(out).toContain('End play "5" -> blank (line 2 of corrections.csv: gauge was broken (shop))');
  });

  it("lists many corrections in JSON alone", async () => {
    const folder = ownCopy();
    const lines = Array.from(
      { length: 11 },
      (_, index) => `rebuild,saltmere,X${index},end_play,5,4,card read again,shop`,
    );
    writeFileSync(join(folder, "corrections.csv"), `record,fleet,id,field,old,new,reason,by\n${lines.join("\n")}\n`);
    await runProgram(folder, "ingest");
    expect((await audit(folder)).corrections.lines).toHaveLength(11);
    const { out } = await runProgram(folder, "audit");
    expect(out).toContain("11 that no record answers to\nThey are listed by framelife audit --json\n");
    expect(out).not.toMatch(/\n2 +unmatched/);
  });

  it("says of a list of units without a day that it is there, and what that costs", async () => {
    const folder = ownCopy();
    writeFileSync(
      join(folder, "pipelines/units.yaml"),
      "title: Units\nrecord: unit\nfiles: exports/units.csv\nfields:\n  fleet: { value: saltmere }\n  unit: { column: Frame }\n",
    );
    writeFileSync(join(folder, "exports/units.csv"), "Frame\nF1\nF2\n");
    const configuration = join(folder, "framelife.yaml");
    writeFileSync(
      configuration,
      readFileSync(configuration, "utf8").replace("[cards, rounds, long]", "[cards, rounds, long, units]"),
    );
    await runProgram(folder, "ingest");
    const { gaps } = await audit(folder);
    const fleetsOf = (name: string) => gaps.find(({ gap }) => gap === name)?.fleets.map(({ fleet }) => fleet);
    expect(fleetsOf("no_list")).toEqual(["ostrel"]);
    expect(fleetsOf("undated_list")).toEqual(["saltmere"]);
    const undated = gaps.find(({ gap }) => gap === "undated_list");
    expect(undated?.sentence).toBe(
      "Saltmere: a list of units is on record, but not the day it was made: it doesn't show that a unit on it was still in service, nor that one missing from it was not. Map listed_on in its pipeline, to a column or one value for all rows.",
    );
    const [, day = "", sql = ""] = /^framelife query --as-of (\S+) "(.*)"$/.exec(undated?.rows ?? "") ?? [];
    expect(JSON.parse((await runProgram(folder, "query", "--as-of", day, sql, "--json")).out)).toHaveLength(2);
    await runProgram(folder, "report");
    const page = readFileSync(join(folder, "report/fleet-saltmere.html"), "utf8");
    expect(page).toContain("The list of units in service has no date");
    expect(page).not.toContain("There is no list of all units in service");
    expect(readFileSync(join(folder, "report/index.html"), "utf8")).toContain("undated");
  });

  it("asks of numbers of units that are nearly another's, with the row where they stand", async () => {
    const folder = ownCopy();
    const cards = Array.from({ length: 6 }, (_, index) => `N${index},SM0227,03/0${index + 1}/2019,,,?,4,Y,bad`);
    writeFileSync(
      join(folder, "exports/cards-3.csv"),
      `${[CARD_HEADER, ...cards, "N9,SMO227,13/09/2019,,,?,4,Y,bad"].join("\n")}\n`,
    );
    await runProgram(folder, "ingest");
    const { corrections } = await audit(folder);
    expect(corrections.proposals).toMatchObject([
      { fleet: "saltmere", unit: "SMO227", meant: "SM0227", trace: "exports/cards-3.csv:8" },
    ]);
    expect((await audit(folder, "--fleet", "ostrel")).corrections.proposals).toEqual([]);
    expect((await runProgram(folder, "audit")).out).toContain("is saltmere/SMO227 the unit saltmere/SM0227?");
  });

  it("says that files with rows of several fleets are counted whole, and prints no cell that commands a terminal", async () => {
    const folder = ownCopy();
    const pipeline = join(folder, "pipelines/cards.yaml");
    writeFileSync(
      pipeline,
      readFileSync(pipeline, "utf8").replace("fleet: { value: saltmere }", "fleet: { column: Lube }"),
    );
    writeFileSync(
      join(folder, "exports/cards-3.csv"),
      `${CARD_HEADER},Lube\n9,F9,03/01/2020,05/01/2020,\u001b[2J,failed,4,Y,bad,saltmere\n8,F8,03/01/2020,,,?,4,Y,bad,ostrel\n`,
    );
    for (const path of ["exports/cards-1.csv", "exports/cards-2.csv", "store"])
      rmSync(join(folder, path), { recursive: true });
    expect(await runProgram(folder, "ingest")).toMatchObject({ err: "" });
    const { out } = await runProgram(folder, "audit", "--fleet", "ostrel");
    expect(out).toContain("Careful: 1 file holds rows of other fleets too");
    expect(out).toContain("\\u001b[2J");
    expect(out).not.toContain("\u001b");
  });

  it("shows no value where a finding is of no cell", async () => {
    const folder = ownCopy();
    const cards = Array.from({ length: 9 }, (_, index) => `D${index},D${index},0${index + 1}/03/2019,,,?,4,Y,bad`);
    writeFileSync(join(folder, "exports/cards-3.csv"), `${[CARD_HEADER, ...cards].join("\n")}\n`);
    writeFileSync(join(folder, "exports/cards-2.csv"), `${CARD_HEADER}\nJ8,F1,20/06/2023,,7000,failed,5,Y,bad\n`);
    await runProgram(folder, "ingest");
    writeFileSync(join(folder, "exports/cards-2.csv"), `${CARD_HEADER}\nJ9,F1,20/06/2024,,8000,failed,5,Y,bad\n`);
    await runProgram(folder, "ingest");
    const { out } = await runProgram(folder, "audit");
    expect(out).toMatch(/\n {2}exports\/cards-3\.csv#removed_on {2}Out: of 8 days not one/);
    expect(out).toMatch(/#row {2}the newer export in place of exports\/cards-2\.csv lacks this record/);
    expect(out).not.toContain("blank:");
  });

  it("goes without the cells of kept exports that are gone", async () => {
    const folder = ownCopy();
    rmSync(join(folder, "store/exports"), { recursive: true });
    const { findings } = await audit(folder);
    // Of rows set aside the store has the cells itself
    expect(findings.map(({ rule, column, cell }) => [rule, column, cell])).toEqual([
      ["date_order", "Built", "25/06/2021"],
      ["out_of_range", "End play", null],
      ["own_unit", "End play", null],
    ]);
    expect((await runProgram(folder, "audit")).out).toContain('#end_play  End play "99": outside');
  });

  it("says the same of lives that a run has kept as of those that it derives", async () => {
    const folder = ownCopy();
    const derived = await audit(folder);
    expect(derived.gaps.length).toBeGreaterThan(0);
    await runProgram(folder, "run");
    const store = await openStore(join(folder, "store", "framelife.duckdb"), "read");
    const { lives } = await columns(store.connection, "select count(*)::integer as lives from results.life", {
      lives: "integer",
    });
    store.close();
    expect(lives[0]).toBeGreaterThan(0);
    expect(await audit(folder)).toEqual(derived);
    rmSync(folder, { recursive: true });
  });

  it("says what it was made with and from: versions, and each file with its SHA-256", async () => {
    const folder = ownCopy();
    const corrections = "record,fleet,id,field,old,new,reason,by\n";
    writeFileSync(join(folder, "corrections.csv"), corrections);
    const { madeFrom } = await audit(folder);
    expect(madeFrom.node).toBe(process.version);
    const hash = (path: string) =>
      createHash("sha256")
        .update(readFileSync(join(folder, path)))
        .digest("hex");
    const settings = [
      "framelife.yaml",
      "pipelines/cards.yaml",
      "pipelines/rounds.yaml",
      "pipelines/long.yaml",
      "corrections.csv",
    ];
    expect(madeFrom.settings).toEqual(settings.map((path) => ({ path, sha256: hash(path), ofPackage: false })));
    const read = ["cards-1.csv", "cards-2.csv", "rounds.csv", "long.csv", "long-again.csv"].map(
      (name) => `exports/${name}`,
    );
    expect(madeFrom.exports).toEqual(
      read.map((path) => ({
        path,
        sha256: hash(path),
        bytes: readFileSync(join(folder, path)).length,
        state: "there",
      })),
    );
  });

  it("prints the sentence first, then gaps, rows, rules and examples", async () => {
    const { out } = await runProgram(shared, "audit");
    expect(out.split("\n")[0]).toMatch(/^Of 14 rows in 5 files 8 became records/);
    const order = [
      "What is missing",
      "Rows by file",
      "Rows by pipeline",
      "What the checks found",
      "Examples",
      "Fields on record",
    ];
    const places = order.map((title) => out.indexOf(title));
    expect(places.every((place) => place > 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(out).toContain('exports/cards-1.csv:7#end_play  End play "99": outside');
    expect(out).toContain('exports/cards-1.csv:4#built_on  Built "25/06/2021", read as 2021-06-25: ');
    expect(out).toContain('exports/cards-1.csv:3#end_play  End play "0.13 mm" -> "5.11811 thou"');
  });
});
