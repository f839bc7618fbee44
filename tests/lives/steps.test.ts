import { readdir } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { openMemory } from "../../src/store/open-memory.ts";
import { rows } from "../../src/store/rows.ts";
import { runStep } from "../../src/store/run-step.ts";
import { packageFile } from "../../src/workspace/package-file.ts";

const values = {
  as_of: "2020-01-01",
  fleets: "[]",
  slots: '["drive_end_bearings"]',
  band_edges: "[2, 3]",
  mm_per_length: 0.0254,
  fahrenheit: false,
  worn_is_failed: false,
  hidden_until_opened: false,
  rollover_at: 100_000,
};

describe("steps from records to lives", () => {
  it("run on empty records, each and all, twice over, and leave empty tables", async () => {
    const files = (await readdir(packageFile("pipelines/sql"))).filter((file) => /^3\d_.*\.sql$/.test(file)).sort();
    expect(files.length).toBe(12);
    const store = await openMemory();
    for (const _ of ["first", "again"]) {
      for (const file of files) await runStep(store.connection, file.replace(".sql", ""), values);
    }
    for (const table of ["card", "known_unit", "visit", "build", "life", "installation"]) {
      expect(await rows(store.connection, `select count(*)::integer as n from ${table}`), table).toEqual([{ n: 0 }]);
    }
    store.close();
  });

  it("give life and installation the columns that the questions read", async () => {
    const store = await openMemory();
    const files = (await readdir(packageFile("pipelines/sql"))).filter((file) => /^3\d_.*\.sql$/.test(file)).sort();
    for (const file of files) await runStep(store.connection, file.replace(".sql", ""), values);
    const typesOf = async (table: string) =>
      Object.fromEntries(
        (await rows(store.connection, `select column_name as name, column_type as type from (describe ${table})`)).map(
          ({ name, type }) => [name, type],
        ),
      );
    const shared = {
      fleet: "VARCHAR",
      unit: "VARCHAR",
      position: "VARCHAR",
      site: "VARCHAR",
      model: "VARCHAR",
      build_number: "INTEGER",
      card: "VARCHAR",
      start_on: "DATE",
      stop_on: "DATE",
      entry_days: "DOUBLE",
      entry_hours: "DOUBLE",
      days: "DOUBLE",
      hours: "DOUBLE",
      hours_estimated: "BOOLEAN",
      id: "VARCHAR",
      assumed_running: "BOOLEAN",
      last_seen_days: "DOUBLE",
      last_seen_hours: "DOUBLE",
      left_out_days: "VARCHAR",
      left_out_hours: "VARCHAR",
      end_play: "DOUBLE",
      end_play_band: "VARCHAR",
      lube: "VARCHAR",
      seal_arrangement: "VARCHAR",
      ring_temperature: "DOUBLE",
      shims: "DOUBLE",
      speed: "DOUBLE",
      fitter: "VARCHAR",
      built_year: "INTEGER",
      start_file: "INTEGER",
      start_row: "INTEGER",
      stop_file: "INTEGER",
      stop_row: "INTEGER",
    };
    expect(await typesOf("life")).toEqual({
      ...shared,
      life_id: "INTEGER",
      place_id: "INTEGER",
      unit_id: "INTEGER",
      slot: "VARCHAR",
      status: "VARCHAR",
      ended_by: "VARCHAR",
      start_marked: "VARCHAR",
      low_days: "DOUBLE",
      low_hours: "DOUBLE",
      damage_mode: "VARCHAR",
      part: "VARCHAR",
      batch: "VARCHAR",
    });
    expect(await typesOf("installation")).toEqual({
      ...shared,
      ends: "VARCHAR",
      from_new: "BOOLEAN",
      start_days: "DOUBLE",
      stop_days: "DOUBLE",
      start_hours: "DOUBLE",
      stop_hours: "DOUBLE",
    });
    store.close();
  });
});
