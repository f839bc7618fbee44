import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openStore } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { runScript } from "../../src/store/run-step.ts";
import { packageFile } from "../../src/workspace/package-file.ts";

const here = dirname(fileURLToPath(import.meta.url));
let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-migrate-"));
  file = join(folder, "framelife.duckdb");
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const TOLD = `
insert into landing.file values (1, 'exports/cards.csv', 'ab', 10, 'cards', 'cd', 'rebuild', 'wide', 'latin-1', ';', 7, timestamp '2024-01-01');
insert into landing.set_aside values (1, 2, 'not_data', 'blank row', '{}'), (1, 3, 'quarantined', 'date_order', '{"Card": "A"}'),
  (1, 4, 'duplicate', 'the same as row 5', '{}'), (1, 6, 'superseded', 'row 7 stands in its place', '{}');
insert into landing.correction values (1, 5, 'end_play', '.005"', '0.127 mm', 'own_unit');
insert into quarantine.refusal values (1, 3, 'built_on', '2020', 'date_order', 'no; correct it', true), (1, 5, 'lube', 'x', 'unknown_word', 'no; add it', false);
insert into records.rebuild_row (file_id, row, card, fleet, unit, reason, removed_on, content, superseded) values
  (1, 5, 'A', 'saltmere', 'F1', 'failure', date '2020-01-01', 1, false),
  (1, 6, 'B', 'saltmere', 'F2', 'planned', date '2020-01-02', 2, true),
  (1, 7, 'B', 'saltmere', 'F2', 'failure', date '2020-01-02', 3, false);
insert into records.fitting_row (file_id, row, fleet, card, slot, fitted, superseded) values (1, 5, 'saltmere', 'A', 'shaft_sleeve', true, false);
insert into records.reading_row values (1, 8, 'saltmere', 'F1', date '2020-02-01', 12.5, true, 900, 4, false);
`;

async function oldStore(version: 1 | 2, told: string): Promise<void> {
  const instance = await DuckDBInstance.create(file);
  const connection = await instance.connect();
  await runScript(connection, readFileSync(join(here, `schema-version-${version}.sql`), "utf8"));
  await runScript(connection, told);
  connection.closeSync();
  instance.closeSync();
}

const shape = (connection: DuckDBConnection) =>
  rows(
    connection,
    `select schema_name, table_name, column_name, data_type, is_nullable from duckdb_columns()
     where not internal and schema_name in ('landing', 'records', 'quarantine', 'results') order by all`,
  );

describe("a store of version 1", () => {
  it("is refused for reading, with the remedy", async () => {
    await oldStore(1, TOLD);
    await expect(openStore(file, "read")).rejects.toThrow(
      'has schema version 1, older than this program\'s 4; run "framelife ingest" once, which brings it forward',
    );
  });

  it("is brought to the very shape of a new one, and nothing in it is lost", async () => {
    await oldStore(1, TOLD);
    const store = await openStore(file, "write");
    const fresh = await openStore(join(folder, "new.duckdb"), "write");
    try {
      expect(await shape(store.connection)).toEqual(await shape(fresh.connection));
      const { connection } = store;
      expect(
        await rows(
          connection,
          "select rows_read, not_data, quarantined, duplicate, superseded, corrected, accepted, refused_values from landing.account",
        ),
      ).toEqual([
        {
          rows_read: 7,
          not_data: 1,
          quarantined: 1,
          duplicate: 1,
          superseded: 1,
          corrected: 1,
          accepted: 2,
          refused_values: 1,
        },
      ]);
      expect(await rows(connection, "select card, unit, reason from records.rebuild order by card")).toEqual([
        { card: "A", unit: "F1", reason: "failure" },
        { card: "B", unit: "F2", reason: "failure" },
      ]);
      expect(await rows(connection, "select field, before, after from landing.change")).toEqual([
        { field: "end_play", before: '.005"', after: "0.127 mm" },
      ]);
      expect(await rows(connection, "select rule, severity from quarantine.finding order by rule")).toEqual([
        { rule: "date_order", severity: "quarantine" },
        { rule: "unknown_word", severity: "refuse" },
      ]);
      expect(await rows(connection, "select unit, hours, meter_changed, old_meter_hours from records.reading")).toEqual(
        [{ unit: "F1", hours: 12.5, meter_changed: true, old_meter_hours: 900 }],
      );
      expect(await rows(connection, "select slot, fitted from records.fitting")).toEqual([
        { slot: "shaft_sleeve", fitted: true },
      ]);
    } finally {
      store.close();
      fresh.close();
    }
  });
});

const TOLD_2 = `
insert into landing.file values (1, 'exports/cards.csv', null, 'ab', 10, 'cards', 'cd', 'rebuild', 'wide', '{}', null, 2, 'there', 0, 0, 0, timestamp '2024-01-01');
insert into records.rebuild_row (file_id, row, part, card, fleet, unit, reason, removed_on, end_play_mm, shims_mm, content, standing, barred) values
  (1, 2, 'card', 'A', 'saltmere', 'F1', 'failure', date '2020-01-01', 0.1, 0.4, 1, 'current', false),
  (1, 3, 'card', 'B', 'saltmere', 'F2', 'planned', date '2020-01-02', 0.2, null, 2, 'current', true);
insert into results.answer values ('life', 'saltmere', date '2024-01-01', 'so long', '{}');
`;

describe("a store of version 2", () => {
  it("is refused for reading, with the remedy", async () => {
    await oldStore(2, TOLD_2);
    await expect(openStore(file, "read")).rejects.toThrow(
      'has schema version 2, older than this program\'s 4; run "framelife ingest" once, which brings it forward',
    );
  });

  it("is brought to the very shape of a new one; its files keep the mapping that they were read by", async () => {
    await oldStore(2, TOLD_2);
    const store = await openStore(file, "write");
    const fresh = await openStore(join(folder, "new.duckdb"), "write");
    try {
      const { connection } = store;
      expect(await shape(connection)).toEqual(await shape(fresh.connection));
      expect(
        await rows(
          connection,
          "select pipeline_sha256, rows_read, quarantined, accepted from landing.file join landing.account using (file_id, rows_read)",
        ),
      ).toEqual([{ pipeline_sha256: "cd", rows_read: 2, quarantined: 1, accepted: 1 }]);
      expect(
        await rows(
          connection,
          "select card, end_play_mm, shims_mm, race_depth_mm, spigot_height_mm, end_play_unshimmed_mm, fitter from records.rebuild",
        ),
      ).toEqual([
        {
          card: "A",
          end_play_mm: 0.1,
          shims_mm: 0.4,
          race_depth_mm: null,
          spigot_height_mm: null,
          end_play_unshimmed_mm: null,
          fitter: null,
        },
      ]);
      expect(await rows(connection, "select sentence from results.answer")).toEqual([{ sentence: "so long" }]);
    } finally {
      store.close();
      fresh.close();
    }
  });
});

describe("a store of version 3", () => {
  it("is brought forward in place: measured values alone are no card any more", async () => {
    const old = await openStore(file, "write");
    const view = readFileSync(packageFile("pipelines/sql/04_current_card.sql"), "utf8").replaceAll(
      / and (part = 'card'|bool_or\(part = 'card'\))/g,
      "",
    );
    await old.connection.run(view);
    await old.connection.run(`
      update landing.version set schema_version = 3;
      insert into records.rebuild_row (file_id, row, part, card, fleet, unit, removed_on, end_play_mm, content, standing, barred) values
        (1, 2, 'card', 'A', 'saltmere', 'F1', date '2020-01-01', null, 1, 'current', false),
        (2, 2, 'measured', 'B', 'saltmere', 'F1', date '2020-02-01', 0.1, 2, 'current', false);
    `);
    const cards = "select card from records.rebuild order by card";
    expect(await rows(old.connection, cards)).toEqual([{ card: "A" }, { card: "B" }]);
    old.close();
    await expect(openStore(file, "read")).rejects.toThrow("has schema version 3, older than this program's 4");
    const store = await openStore(file, "write");
    const fresh = await openStore(join(folder, "new.duckdb"), "write");
    try {
      expect(await shape(store.connection)).toEqual(await shape(fresh.connection));
      expect(await rows(store.connection, cards)).toEqual([{ card: "A" }]);
    } finally {
      store.close();
      fresh.close();
    }
  });
});
