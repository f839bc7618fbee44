import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { AuditAnswer } from "../../src/questions/audit-types.ts";
import { CARD_HEADER } from "../ingest/scratch-workspace.ts";
import { TraceAnswerSchema } from "../questions/answer-schema.ts";
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

async function trace(id: string, folder = shared) {
  const ran = await runProgram(folder, "trace", id, "--json");
  expect(ran).toMatchObject({ status: 0, err: "" });
  return TraceAnswerSchema.parse(JSON.parse(ran.out));
}

async function refused(id: string): Promise<string> {
  const ran = await runProgram(shared, "trace", id);
  expect(ran).toMatchObject({ status: 1, out: "" });
  return ran.err;
}

describe("framelife trace of a row", () => {
  it("shows the cells as they stood, where the row ended and by which rule", async () => {
    const { answer, rows } = await trace("exports/cards-1.csv:4");
    expect(answer).toBe("Row exports/cards-1.csv:4: set aside by date_order.");
    expect(rows).toHaveLength(1);
    expect(rows[0]?.ended).toEqual({
      outcome: "quarantined",
      words: "set aside by date_order",
      rules: ["date_order"],
      rows: [],
    });
    expect(rows[0]?.cells).toContainEqual({ column: "Out", value: "20/06/2022" });
    expect(rows[0]?.findings).toMatchObject([{ rule: "date_order", trace: "exports/cards-1.csv:4#built_on" }]);
    expect(rows[0]?.recorded).toEqual([]);
  });

  it("tells a value that was changed, before and after, from its own id", async () => {
    const { answer, rows } = await trace("exports/cards-1.csv:3#end_play");
    // 0.13 mm / 0.0254 mm: NIST SP 811
    expect(answer).toContain('end_play (End play) "0.13 mm" was changed to "5.11811 thou" by own_unit');
    expect(rows[0]?.changes).toEqual([
      {
        field: "end_play",
        column: "End play",
        cell: "0.13 mm",
        before: "0.13 mm",
        after: "5.11811 thou",
        rule: "own_unit",
        because: null,
      },
    ]);
    expect(rows[0]?.ended).toMatchObject({ outcome: "superseded", rows: ["exports/cards-2.csv:2"] });
    expect(rows[0]?.recorded).toContainEqual({
      field: "end_play_mm",
      value: 0.13,
      column: "End play",
      cell: "0.13 mm",
    });
  });

  it.each([
    { id: "exports/cards-1.csv:5", outcome: "not_data", words: /^no data: / },
    { id: "exports/cards-1.csv:6", outcome: "duplicate", words: /^says what exports\/cards-1\.csv:2 says$/ },
    {
      id: "exports/cards-2.csv:2",
      outcome: "accepted",
      words: /^accepted as it stands, in place of exports\/cards-1\.csv:3$/,
    },
    { id: "exports/cards-1.csv:2", outcome: "accepted", words: /^accepted as it stands$/ },
  ])("says that $id ended as $outcome", async ({ id, outcome, words }) => {
    const { rows } = await trace(id);
    expect(rows[0]?.ended.outcome).toBe(outcome);
    expect(rows[0]?.ended.words).toMatch(words);
  });

  it("finds a card in quarantine by its number", async () => {
    expect((await trace("J3")).id).toBe("exports/cards-1.csv:4");
  });

  it("tells of a card on record which rows in quarantine have its number too", async () => {
    const folder = ownCopy();
    // Row 2 is the card once more, its dates in an order that can't be; row 3 has its number in another column.
    writeFileSync(
      join(folder, "exports/cards-3.csv"),
      `${CARD_HEADER}\n j1 ,F1,03/01/2020,05/01/2019,1000,failed,4,Y,bad\nJ7,J1,03/01/2020,05/01/2019,1000,failed,4,Y,bad\n`,
    );
    await runProgram(folder, "ingest");
    const { answer, rows, versions } = await trace("J1", folder);
    expect(answer).toContain("stands in 2 rows of 1 file");
    expect(answer).toContain(" 1 row more in quarantine has its number: exports/cards-3.csv:2.");
    expect(rows.map(({ trace: id, ended }) => [id, ended.outcome])).toEqual([
      ["exports/cards-1.csv:2", "accepted"],
      ["exports/cards-1.csv:6", "duplicate"],
      ["exports/cards-3.csv:2", "quarantined"],
    ]);
    expect(versions.flatMap((version) => version.rows)).not.toContain("exports/cards-3.csv:2");
  });

  it("shows a value that was left out", async () => {
    const { rows } = await trace("exports/cards-1.csv:7");
    expect(rows[0]?.findings).toMatchObject([
      { field: "end_play", value: "99", rule: "out_of_range", severity: "refuse" },
    ]);
  });
});

describe("framelife trace beside the owner's words", () => {
  it("shows the owner's columns and cells beside our fields and values", async () => {
    const { rows } = await trace("exports/cards-1.csv:7");
    expect(rows[0]?.findings).toMatchObject([{ field: "end_play", column: "End play", cell: "99" }]);
    const recorded = new Map(rows[0]?.recorded.map(({ field, ...told }) => [field, told]));
    expect(recorded.get("removed_on")).toEqual({ value: "2020-02-01", column: "Out", cell: "01/02/2020" });
    expect(recorded.get("drive_end_bearings.condition")).toEqual({
      value: "serviceable",
      column: "DE found",
      cell: "good",
    });
    expect(recorded.get("fleet")).toEqual({ value: "saltmere", column: null, cell: null });
    const { out } = await runProgram(shared, "trace", "exports/cards-1.csv:7");
    expect(out).toContain('removed_on = 2020-02-01 (Out "01/02/2020")');
    expect(out).toContain("card = F1 (Card)");
    expect(out).toContain('  found end_play (End play) "99": out_of_range (refuse), outside');
  });

  it("does so for long cards, where each row names its slot", async () => {
    const { rows } = await trace("exports/long.csv:2");
    expect(rows[0]?.recorded).toContainEqual({
      field: "drive_end_bearings.condition",
      value: "failed",
      column: "Found",
      cell: "bad",
    });
  });

  it("says nothing of columns where the pipeline has changed since", async () => {
    const folder = ownCopy();
    const pipeline = join(folder, "pipelines/cards.yaml");
    writeFileSync(pipeline, readFileSync(pipeline, "utf8").replace("column: Out", "column: Built"));
    const { rows } = await trace("exports/cards-1.csv:7", folder);
    expect(rows[0]?.recorded).toContainEqual({ field: "removed_on", value: "2020-02-01", column: null, cell: null });
    writeFileSync(pipeline, "fields: [");
    expect((await trace("exports/cards-1.csv:7", folder)).rows[0]?.findings).toMatchObject([{ column: null }]);
  });
});

describe("framelife trace of a column", () => {
  it("tells what was found of it as a whole, by the id that the audit gives", async () => {
    const folder = ownCopy();
    const rows = Array.from({ length: 9 }, (_, index) => `D${index},D${index},0${index + 1}/03/2019,,,?,4,Y,bad`);
    writeFileSync(join(folder, "exports/cards-3.csv"), `${[CARD_HEADER, ...rows].join("\n")}\n`);
    await runProgram(folder, "ingest");
    const { findings } = JSON.parse((await runProgram(folder, "audit", "--json")).out) as AuditAnswer;
    const found = findings.find(({ rule }) => rule === "suspect_day_month");
    expect(found).toMatchObject({ row: null, trace: "exports/cards-3.csv#removed_on" });
    const { kind, answer, story } = await trace("exports/cards-3.csv#removed_on", folder);
    expect(kind).toBe("column");
    // By hand: nine days, of which 3 March reads the same either way
    expect(answer).toContain("of 8 days not one lies past the 12th of its month");
    expect(story).toMatchObject([{ about: "column", value: "suspect_day_month" }]);
    const ran = await runProgram(folder, "trace", "exports/cards-3.csv#lube");
    expect(ran.err).toContain("nothing was found of this column as a whole");
  });
});

describe("framelife trace of a card", () => {
  it("shows its versions and what differs between them", async () => {
    const { answer, kind, versions } = await trace("J2");
    expect(kind).toBe("card");
    expect(answer).toContain("in 2 versions: the last, exports/cards-2.csv:2, counts");
    expect(versions[1]?.differs).toEqual([
      { field: "reason", before: "failure", after: "planned" },
      { field: "end_play_mm", before: 0.13, after: 0.127 }, // 5 thou of 0.0254 mm: NIST SP 811
    ]);
  });

  it("takes the rows of a long card as one version", async () => {
    const { versions, rows } = await trace("ostrel/K1");
    expect(versions.map((version) => version.rows)).toEqual([
      ["exports/long.csv:2", "exports/long.csv:3"],
      ["exports/long-again.csv:2", "exports/long-again.csv:3"],
    ]);
    expect(versions[1]?.differs).toEqual([
      { field: "drive_end_bearings.condition", before: "failed", after: "serviceable" },
    ]);
    expect(rows.map(({ ended }) => ended.outcome)).toEqual(["superseded", "superseded", "accepted", "accepted"]);
  });
});

describe("framelife trace of a card that is told in parts", () => {
  const MEASURED = `
title: Measured values
record: rebuild
layout: measured
files: exports/measured*.csv
fields:
  card: { column: Job }
  fleet: { value: saltmere }
  measure: { column: What }
measures:
  end play found: { field: end_play_found, column: Value, unit: thou }
  shims: { field: shims, column: Value, unit: thou }
`;
  const measured = async (files: Record<string, string>) => {
    const folder = ownCopy();
    const configuration = join(folder, "framelife.yaml");
    writeFileSync(
      configuration,
      readFileSync(configuration, "utf8").replace("[cards, rounds, long]", "[cards, rounds, long, measured]"),
    );
    writeFileSync(join(folder, "pipelines/measured.yaml"), MEASURED);
    for (const [name, rows] of Object.entries(files))
      writeFileSync(join(folder, `exports/${name}`), `Job,What,Value\n${rows}`);
    expect(await runProgram(folder, "ingest")).toMatchObject({ err: "" });
    return folder;
  };

  it("says which part came from which file", async () => {
    const folder = await measured({ "measured.csv": "J1,end play found,9\nJ1,shims,20\n" });
    const { answer, versions } = await trace("J1", folder);
    expect(answer).toBe(
      "Card saltmere/J1 stands in 4 rows of 2 files: the card itself in exports/cards-1.csv; measured values (end_play_found_mm, shims_mm) in exports/measured.csv.",
    );
    expect(versions.map(({ part, standing }) => [part, standing])).toEqual([
      ["card", "current"],
      ["card", "duplicate"],
      ["measured", "current"],
    ]);
    const { out } = await runProgram(folder, "trace", "J1");
    expect(out).toContain("Versions\nthe card itself, current: exports/cards-1.csv:2\n");
    expect(out).toContain("measured values, current: exports/measured.csv:2, 3");
  });

  it("says of each part which of its versions counts", async () => {
    const folder = await measured({ "measured-1.csv": "J2,shims,20\n", "measured-2.csv": "J2,shims,21\n" });
    const { answer, versions } = await trace("J2", folder);
    expect(answer).toBe(
      "Card saltmere/J2 stands in 4 rows of 4 files: the card itself in 2 versions, of which the last, exports/cards-2.csv:2, counts; measured values (shims_mm) in 2 versions, of which the last, exports/measured-2.csv:2, counts.",
    );
    // 20 and 21 thou of 0.0254 mm: NIST SP 811
    expect(versions.at(-1)?.differs).toEqual([{ field: "shims_mm", before: 0.508, after: 0.5334 }]);
  });
});

describe("framelife trace of a unit, a build and a life", () => {
  it("lists the records of a unit in order of time, with ids to go on from", async () => {
    const { records, story } = await trace("unit:saltmere/F1");
    expect(records.map(({ on, kind, trace }) => [on, kind, trace])).toEqual([
      ["2020-01-03", "card", "saltmere/J1"],
      ["2020-09-01", "reading", "exports/rounds.csv:2"],
      ["2021-06-20", "card", "saltmere/J2"],
      ["2021-12-01", "reading", "exports/rounds.csv:3"],
    ]);
    expect(story.flatMap(({ trace }) => trace)).toContain("saltmere/F1/drive_end_bearings/1");
  });

  it("tells how a life began, ended and ran, with the rows of both cards", async () => {
    const { answer, story, rows } = await trace("saltmere/F1/drive_end_bearings/1");
    // By hand: 6000.5 h - 1000 h
    expect(answer).toBe("Life saltmere/F1/drive_end_bearings/1 ran from 2020-01-05 to 2021-06-20, 5,000.5 h: failed.");
    const words = Object.fromEntries(story.map((line) => [line.about, line.words]));
    expect(words["start"]).toContain("the day it was built is taken");
    expect(words["stop"]).toBe("taken out by card J2, for planned");
    expect(words["status"]).toBe("the card says it was found failed");
    expect(words["hours"]).toBe("the meter stood at 1,000 h and 6,000.5 h on the cards; 1 meter round in between");
    expect(rows.map(({ trace }) => trace)).toEqual(["exports/cards-1.csv:2", "exports/cards-2.csv:2"]);
  });

  it("says in words why a life has no hours", async () => {
    const { story } = await trace("saltmere/F1/drive_end_bearings/0");
    expect(story.find(({ about }) => about === "hours")).toMatchObject({
      value: null,
      words: "no hours (start_unknown): the start is not known",
    });
  });

  it("gives the ids of lives and builds in the rows behind an answer", async () => {
    const answer = JSON.parse((await runProgram(shared, "life", "--fleet", "saltmere", "--json")).out);
    const sql = /"(select .*)"$/.exec(answer.rows)?.[1] ?? "";
    const listed = JSON.parse((await runProgram(shared, "query", sql, "--json")).out);
    for (const { id } of listed) expect((await trace(id)).id).toBe(id);
    expect(listed.length).toBeGreaterThan(2);
  });
});

describe("framelife trace of a number that was merged into another", () => {
  const merged = async () => {
    const folder = ownCopy();
    writeFileSync(
      join(folder, "exports/cards-3.csv"),
      `${CARD_HEADER}\nN1,SM0227,03/01/2019,,,?,4,Y,bad\nN2,SMO227,03/01/2020,,,?,4,Y,bad\nN3,SMO227,03/01/2021,,,?,4,Y,bad\n`,
    );
    writeFileSync(join(folder, "aliases.csv"), "fleet,unit,is,accept,because\nsaltmere,SMO227,SM0227,yes,O for 0\n");
    await runProgram(folder, "ingest");
    return folder;
  };

  it("finds the unit under the number that was kept, and says by which line", async () => {
    const folder = await merged();
    for (const id of ["SMO227", "saltmere/SMO227", "smo227", "unit:SMO227"]) {
      const traced = await trace(id, folder);
      expect(traced).toMatchObject({ kind: "unit", id: "saltmere/SM0227" });
      // By hand: N1 to N2 and N2 to N3; what went back after N3 is not known to have gone
      expect(traced.answer).toBe(
        "SMO227 was taken for SM0227 in 2 rows, by line 2 of aliases.csv. Unit saltmere/SM0227 has 3 records from 2019-01-03 to 2021-01-03, 3 cards among them, and 2 builds.",
      );
      expect(traced.merged).toEqual([
        { number: "SMO227", because: "line 2 of aliases.csv", rows: 2, trace: "exports/cards-3.csv:3" },
      ]);
    }
  });

  it("says the same of the unit that was kept", async () => {
    const { answer, merged: numbers } = await trace("SM0227", await merged());
    expect(answer).toMatch(/ and 2 builds\. SMO227 was taken for it in 2 rows, by line 2 of aliases\.csv\.$/);
    expect(numbers).toHaveLength(1);
    expect((await trace("unit:saltmere/F1")).merged).toEqual([]);
  });
});

describe("framelife trace of what is not one thing", () => {
  it("lists what an id can mean, by kind where the ids are the same", async () => {
    expect(await refused("F1")).toContain(
      'Cannot trace "F1": it can mean card:saltmere/F1, unit:ostrel/F1, unit:saltmere/F1; give one of these',
    );
    expect(await refused("unit:F1")).toContain("it can mean ostrel/F1, saltmere/F1; give one of these");
  });

  it("names the nearest where there is none", async () => {
    expect(await refused("saltmere/J9")).toMatch(/nearest are .*saltmere\/J1/);
    expect(await refused("exports/cards-1.csv:400")).toContain("its rows go up to 7");
    expect(await refused("exports/cards-1.csv")).toContain("name a row of it, for example exports/cards-1.csv:2");
    expect(await refused("ostrel/F1/drive_end_bearing/2")).toContain("nearest are ostrel/F1/drive_end_bearings/2");
    expect(await refused("exports/card-1.csv:2")).toContain("nearest are exports/cards-1.csv:2");
  });

  it("takes letters of either case, and a fleet left out", async () => {
    expect((await trace("j2")).id).toBe("saltmere/J2");
    expect((await trace("k2")).id).toBe("ostrel/K2");
  });

  it("shows what the store has where the kept export is gone, and says the remedy", async () => {
    const folder = ownCopy();
    rmSync(join(folder, "store/exports"), { recursive: true });
    const { rows, warnings } = await trace("exports/cards-1.csv:3", folder);
    expect(rows[0]?.cells).toBeNull();
    expect(rows[0]?.recorded).toContainEqual({ field: "card", value: "J2", column: "Card", cell: null });
    expect(warnings[0]).toMatch(/its kept copy .* is gone; put it back/);
    expect(rows[0]?.missing).toBe(warnings[0]);
  });

  it("says that a kept export is damaged", async () => {
    const folder = ownCopy();
    for (const name of readdirSync(join(folder, "store/exports"))) {
      writeFileSync(join(folder, "store/exports", name), "no longer what it was");
    }
    const { rows, warnings } = await trace("exports/cards-1.csv:3", folder);
    expect(rows[0]?.cells).toBeNull();
    expect(warnings[0]).toMatch(/its kept copy is damaged \(.*\); put back the export/);
  });

  it("tells the rows of a replaced file apart from those that came in its place", async () => {
    const folder = ownCopy();
    writeFileSync(join(folder, "exports/rounds.csv"), "Frame,Read,Meter\nF1,2020-09-01,3100\n");
    await runProgram(folder, "ingest");
    const { records } = await trace("unit:saltmere/F1", folder);
    const old = records.find(({ trace }) => trace.startsWith("exports/rounds.csv@"))?.trace ?? "";
    expect((await trace(old, folder)).rows[0]?.cells).toContainEqual({ column: "Meter", value: "3000" });
    const now = await trace("exports/rounds.csv:2", folder);
    expect(now.rows[0]?.cells).toContainEqual({ column: "Meter", value: "3100" });
  });
});

describe("framelife trace on a terminal", () => {
  it("shows of further rows of a file only where they differ from the first", async () => {
    const { out } = await runProgram(shared, "trace", "ostrel/K1");
    expect(out).toContain("current: exports/long-again.csv:2, 3\n");
    const [, second = ""] = out.split("\nexports/long.csv:3 (");
    expect(second.split("\n\n")[0]).toContain(
      [
        "  as it stood, as exports/long.csv:2 but for",
        "    Slot = PE | Found = good | New = N",
        "  recorded, as exports/long.csv:2 but for",
        '    pump_end_bearing.fitted = false (New "N") | pump_end_bearing.condition = serviceable (Found "good")',
      ].join("\n"),
    );
  });

  it("says in words how builds ended", async () => {
    const { out } = await runProgram(shared, "trace", "unit:saltmere/F1");
    expect(out).toMatch(/2020-01-05 to 2021-06-20, no position on record, ended as planned: 1 life/);
  });

  it("prints nothing that a cell could command the terminal with", async () => {
    const folder = ownCopy();
    const hostile = "\u001b[2J\u009b1m";
    writeFileSync(
      join(folder, "exports/cards-3.csv"),
      `${CARD_HEADER}\n${hostile},F9,03/01/2020,05/01/2020,1000,failed,4,Y,bad\n`,
    );
    await runProgram(folder, "ingest");
    const ran = await runProgram(folder, "trace", "exports/cards-3.csv:2");
    expect(ran.out).toContain("\\u001b[2J");
    const obeyed = [...ran.out].filter(
      (mark) => mark !== "\n" && (mark < " " || (mark >= "\u007f" && mark <= "\u009f")),
    );
    expect(obeyed).toEqual([]);
  });
});
