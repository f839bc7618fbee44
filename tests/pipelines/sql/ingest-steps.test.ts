import { readdirSync, readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openMemory } from "../../../src/store/open-memory.ts";
import type { Store } from "../../../src/store/open-store.ts";
import { rows } from "../../../src/store/rows.ts";
import { runStep } from "../../../src/store/run-step.ts";
import { packageFile } from "../../../src/workspace/package-file.ts";

let store: Store;
beforeEach(async () => {
  store = await openMemory();
});
afterEach(() => store.close());

const STAGED: Record<string, string> = {
  rebuild: `card varchar, fleet varchar, unit varchar, position varchar, site varchar, model varchar, removed_on date, received_on date,
    built_on date, installed_on date, hours_removed double, hours_installed double, reason varchar, failed_slot varchar, lube varchar,
    seal_arrangement varchar, end_play_mm double, end_play_found_mm double, shims_mm double, ring_temperature_c double, speed_rpm double,
    fitter varchar, remarks varchar,
    fittings struct(slot varchar, fitted boolean, condition varchar, damage_mode varchar, part varchar, batch varchar)[]`,
  unit: `fleet varchar, unit varchar, model varchar, site varchar, position varchar, speed_rpm double, commissioned_on date,
    last_rebuilt_on date, listed_on date`,
  reading: "fleet varchar, unit varchar, read_on date, hours double, meter_changed boolean, old_meter_hours double",
  retirement: "fleet varchar, unit varchar, retired_on date, cause varchar",
};

/** The table that the generated query of a pipeline makes, empty but for what `insert` says. */
async function staged(record: string, ...inserts: string[]): Promise<void> {
  await store.connection.run(`create temp table staged (
    not_data varchar, fatal boolean, refusals struct(field varchar, value varchar, rule varchar, message varchar, whole_row boolean)[],
    corrections struct(field varchar, before varchar, after varchar, rule varchar)[], raw varchar, content uhugeint, ${STAGED[record]})`);
  for (const insert of inserts) await store.connection.run(`insert into staged by name ${insert}`);
}

const VALUES = {
  file_id: 7,
  blanks: "[]",
  broken: "[]",
  path: "cards.csv",
  sha256: "ab",
  bytes: 1,
  pipeline: "cards",
  pipeline_sha256: "cd",
  record: "rebuild",
  layout: "wide",
  encoding: "utf-8",
  delimiter: ",",
};

const files = readdirSync(packageFile("pipelines/sql")).filter((name) => /^[12]\d_.*\.sql$/.test(name));

describe("the steps of ingest", () => {
  it("are all here, and open with what they make of what, by which key and how many rows", () => {
    expect(files.length).toBeGreaterThan(15);
    for (const name of files) {
      const [first, second] = readFileSync(packageFile(`pipelines/sql/${name}`), "utf8").split("\n");
      expect(first).toBe(`-- pipelines/sql/${name}`);
      expect(second).toMatch(/^-- .*(->|where no line)/);
    }
  });

  it.each([
    ["rebuild", "20_rebuild_versions", "25_rebuild_rows"],
    ["unit", "21_unit_versions", "26_unit_rows"],
    ["reading", "22_reading_versions", "27_reading_rows"],
    ["retirement", "23_retirement_versions", "28_retirement_rows"],
  ])("run on empty tables: %s", async (record, versions, records) => {
    for (const source of ["11_source", "11_source_plain"]) {
      await runStep(store.connection, "19_clear");
      await staged(record, "select 'repeated header' as not_data, false as fatal");
      for (const step of [
        "10_forget_file",
        source,
        "12_file",
        "13_set_aside",
        versions,
        "24_verdicts",
        records,
        "29_loose_ends",
      ]) {
        await runStep(store.connection, step, { ...VALUES, record });
      }
      expect(await rows(store.connection, "select rows_read, accepted from landing.account")).toEqual([
        { rows_read: 0, accepted: 0 },
      ]);
    }
  });
});

describe("11_source", () => {
  it("numbers rows over empty lines: row = place among the records + empty lines before it", async () => {
    await staged(
      "unit",
      ...["h", "A", "B", "C", "D"].map((unit) => `select '${unit}' as unit, false as fatal, null as not_data`),
    );
    // lines: 1 empty, 2 header, 3 A, 4 empty, 5 empty, 6 B, 7 C, 8 empty, 9 D, 10 empty
    await runStep(store.connection, "11_source", { ...VALUES, blanks: "[1, 4, 5, 8, 10]", broken: "[7]" });
    expect(
      await rows(
        store.connection,
        "select row, unit, fatal, len(refusals)::integer as refusals from source order by row",
      ),
    ).toEqual([
      { row: 3, unit: "A", fatal: false, refusals: null },
      { row: 6, unit: "B", fatal: false, refusals: null },
      { row: 7, unit: "C", fatal: true, refusals: 1 },
      { row: 9, unit: "D", fatal: false, refusals: null },
    ]);
  });
});

describe("24_verdicts", () => {
  /** [file, row, key, content, version, superseded before]; file 7 is the one being read. */
  type VersionRow = [number, number, number, number, number, boolean?];

  async function verdicts(...given: VersionRow[]): Promise<string[]> {
    const { connection } = store;
    await connection.run("create temp table forgotten (key uhugeint)");
    await connection.run("create temp table incoming (row integer, key uhugeint, content uhugeint, version integer)");
    await connection.run(
      "create temp table stored (file_id integer, row integer, key uhugeint, content uhugeint, version integer, superseded boolean)",
    );
    for (const [file, row, key, content, version, superseded = false] of given) {
      if (file === 7) await connection.run(`insert into incoming values (${row}, ${key}, ${content}, ${version})`);
      else
        await connection.run(
          `insert into stored values (${file}, ${row}, ${key}, ${content}, ${version}, ${superseded})`,
        );
    }
    await runStep(connection, "24_verdicts", VALUES);
    const found = await rows(
      connection,
      `select file_id, row, case when duplicate then 'same as ' || original.file_id || ':' || original.row
              when superseded then 'superseded by ' || standing.file_id || ':' || standing.row else 'current' end as verdict
       from verdict order by file_id, row`,
    );
    return found.map(({ file_id, row, verdict }) => `${file_id}:${row} ${verdict}`);
  }

  it("judges only records of several rows", async () => {
    expect(await verdicts([7, 2, 1, 10, 2], [7, 3, 2, 10, 3], [3, 2, 3, 10, 2])).toEqual([]);
  });

  it("finds the same again, in the file and in an older one, by the first that said it", async () => {
    expect(await verdicts([3, 2, 1, 10, 2], [7, 2, 1, 10, 2], [7, 3, 1, 10, 3])).toEqual([
      "3:2 current",
      "7:2 same as 3:2",
      "7:3 same as 3:2",
    ]);
  });

  it("lets the last version stand: of a later file, of a later row, changed back", async () => {
    expect(await verdicts([3, 9, 1, 10, 9], [7, 2, 1, 11, 2], [7, 3, 1, 10, 3])).toEqual([
      "3:9 superseded by 7:3",
      "7:2 superseded by 7:3",
      "7:3 current",
    ]);
  });

  it("puts a file that is read again in its old place", async () => {
    expect(await verdicts([3, 2, 1, 10, 2], [7, 2, 1, 11, 2], [9, 2, 1, 12, 2])).toEqual([
      "3:2 superseded by 9:2",
      "7:2 superseded by 9:2",
      "9:2 current",
    ]);
  });

  it("takes the rows of a long card as one version, in any order", async () => {
    expect(
      await verdicts([3, 2, 1, 10, 0], [3, 3, 1, 11, 0], [7, 2, 1, 11, 0], [7, 3, 1, 10, 0], [7, 4, 1, 10, 0]),
    ).toEqual(["3:2 current", "3:3 current", "7:2 same as 3:2", "7:3 same as 3:2", "7:4 same as 7:3"]);
  });

  it("has a long card with one row changed supersede all rows of the older one", async () => {
    expect(await verdicts([3, 2, 1, 10, 0], [3, 3, 1, 11, 0], [7, 2, 1, 10, 0], [7, 3, 1, 12, 0])).toEqual([
      "3:2 superseded by 7:2",
      "3:3 superseded by 7:2",
      "7:2 current",
      "7:3 current",
    ]);
  });
});
