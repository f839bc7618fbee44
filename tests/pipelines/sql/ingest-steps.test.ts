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

const SOURCE: Record<string, string> = {
  rebuild: `part varchar, card varchar, fleet varchar, unit varchar, position varchar, site varchar, model varchar, removed_on date,
    received_on date, built_on date, installed_on date, revised_on date, hours_removed double, hours_installed double, reason varchar,
    failed_slot varchar, lube varchar, seal_arrangement varchar, end_play_mm double, end_play_found_mm double, shims_mm double,
    race_depth_mm double, spigot_height_mm double, end_play_unshimmed_mm double, ring_temperature_c double, speed_rpm double, fitter varchar, remarks varchar,
    fittings struct(slot varchar, fitted boolean, condition varchar, damage_mode varchar, part varchar, batch varchar)[]`,
  unit: `fleet varchar, unit varchar, model varchar, site varchar, position varchar, speed_rpm double, commissioned_on date,
    last_rebuilt_on date, listed_on date`,
  reading: "fleet varchar, unit varchar, read_on date, hours double, meter_changed boolean, old_meter_hours double",
  retirement: "fleet varchar, unit varchar, retired_on date, cause varchar",
  stock: "part varchar, place varchar, counted_on date, on_hand double, on_order double, due_on date",
  part: `part varchar, title varchar, slot varchar, price double, currency varchar, lead_time_days double, lead_time_low_days double,
    lead_time_high_days double, pack_size double, minimum_order double, replaced_by varchar`,
  bearing: `part varchar, kind varchar, bore_mm double, outside_diameter_mm double, width_mm double, dynamic_rating_kn double,
    static_rating_kn double, fatigue_limit_kn double, contact_angle_deg double`,
};

/** The rows that the generated queries make of an export, none of them. */
async function emptySource(record: string): Promise<void> {
  await store.connection.run(`create temp table source (
    row integer, not_data varchar, fatal boolean,
    findings struct(field varchar, value varchar, rule varchar, severity varchar, message varchar)[],
    changes struct(field varchar, before varchar, after varchar, rule varchar, because varchar)[],
    corrections struct(line integer, outcome varchar)[],
    raw varchar, content uhugeint, record_key uhugeint, version_on date, ${SOURCE[record]})`);
  await store.connection.run(
    "create temp table column_doubt (field varchar, value varchar, rule varchar, message varchar)",
  );
}

const VALUES = {
  file_id: 7,
  blanks: "[]",
  path: "cards.csv",
  sheet: null,
  sha256: "ab",
  bytes: 1,
  pipeline: "cards",
  pipeline_sha256: "cd",
  record: "rebuild",
  layout: "wide",
  reading: "{}",
  header: "[]",
  pipeline_place: 0,
  pattern_place: 0,
  sheet_place: 0,
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

  it.each(Object.keys(SOURCE))("run on empty tables: %s", async (record) => {
    await runStep(store.connection, "19_clear");
    await emptySource(record);
    const values = { ...VALUES, record };
    await runStep(store.connection, "10_forget_file", values);
    await runStep(store.connection, "12_file", { ...values, blanks: 0 });
    for (const step of [
      "13_set_aside",
      "20_incoming",
      "24_verdicts",
      `25_${record}_rows`,
      "26_standings",
      "27_notes",
    ]) {
      await runStep(store.connection, step, values);
    }
    expect(await rows(store.connection, "select rows_read, accepted from landing.account")).toEqual([
      { rows_read: 0, accepted: 0 },
    ]);
  });
});

describe("24_verdicts", () => {
  /** File 7 is the one being read. */
  type VersionRow = [file: number, row: number, card: number, content: number, revised?: string];

  function insertVersion(layout: "wide" | "long", [file, row, card, content, revised]: VersionRow): string {
    const on = revised === undefined ? "null::date" : `date '${revised}'`;
    const key = `records.key_of(concat_ws(chr(31), 'card', 'saltmere', '${card}'))`;
    if (file === 7)
      return `insert into incoming values (7, ${row}, ${key}, ${content}, ${on}, ${layout === "wide" ? row : 0})`;
    return `insert into records.rebuild_row by name
      select ${file} as file_id, ${row} as row, 'card' as part, '${card}' as card, 'saltmere' as fleet, ${on} as revised_on,
             ${content} as content, 'current' as standing, false as barred`;
  }

  /** Files come in the order of their numbers. */
  async function verdicts(layout: "wide" | "long", ...given: VersionRow[]): Promise<string[]> {
    const { connection } = store;
    for (const file of new Set([7, ...given.map(([number]) => number)])) {
      await connection.run(
        `insert into landing.file values (${file}, 'cards', null, '', 0, 'cards', '', 'rebuild', '${layout}', '{}', null, 0, 'there', ${file}, 0, 0, now())`,
      );
    }
    await connection.run("create temp table forgotten (record varchar, key uhugeint)");
    await connection.run(
      "create temp table incoming (file_id integer, row integer, key uhugeint, content uhugeint, revised_on date, version integer)",
    );
    for (const version of given) await connection.run(insertVersion(layout, version));
    await runStep(connection, "24_verdicts", VALUES);
    const found = await rows(connection, "select file_id, row, standing from verdict order by file_id, row");
    return found.map(({ file_id, row, standing }) => `${file_id}:${row} ${standing}`);
  }

  it("judges only records of several rows", async () => {
    expect(await verdicts("wide", [7, 2, 1, 10], [7, 3, 2, 10], [3, 2, 3, 10])).toEqual([]);
  });

  it("finds the same again, in the file and in an older one", async () => {
    expect(await verdicts("wide", [3, 2, 1, 10], [7, 2, 1, 10], [7, 3, 1, 10])).toEqual([
      "3:2 current",
      "7:2 duplicate",
      "7:3 duplicate",
    ]);
  });

  it("makes a row of a later file the duplicate of one in the file being read", async () => {
    expect(await verdicts("wide", [7, 2, 1, 10], [9, 2, 1, 10])).toEqual(["7:2 current", "9:2 duplicate"]);
  });

  it("lets the last version stand: of a later file, of a later row, changed back", async () => {
    expect(await verdicts("wide", [3, 9, 1, 10], [7, 2, 1, 11], [7, 3, 1, 10])).toEqual([
      "3:9 superseded",
      "7:2 superseded",
      "7:3 current",
    ]);
  });

  it("lets the version of the latest day stand, where they say it, whatever their files", async () => {
    expect(await verdicts("wide", [3, 2, 1, 10, "2024-05-02"], [7, 2, 1, 11, "2024-05-01"], [9, 2, 1, 12])).toEqual([
      "3:2 current",
      "7:2 superseded",
      "9:2 superseded",
    ]);
  });

  it("puts a file that is read again in its old place", async () => {
    expect(await verdicts("wide", [3, 2, 1, 10], [7, 2, 1, 11], [9, 2, 1, 12])).toEqual([
      "3:2 superseded",
      "7:2 superseded",
      "9:2 current",
    ]);
  });

  it("takes the rows of a long card as one version, in any order", async () => {
    expect(await verdicts("long", [3, 2, 1, 10], [3, 3, 1, 11], [7, 2, 1, 11], [7, 3, 1, 10], [7, 4, 1, 10])).toEqual([
      "3:2 current",
      "3:3 current",
      "7:2 duplicate",
      "7:3 duplicate",
      "7:4 duplicate",
    ]);
  });

  it("has a long card with one row changed supersede all rows of the older one", async () => {
    expect(await verdicts("long", [3, 2, 1, 10], [3, 3, 1, 11], [7, 2, 1, 10], [7, 3, 1, 12])).toEqual([
      "3:2 superseded",
      "3:3 superseded",
      "7:2 current",
      "7:3 current",
    ]);
  });
});
