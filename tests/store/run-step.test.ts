import { DuckDBInstance } from "@duckdb/node-api";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { columns } from "../../src/store/columns.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { runScript, runStep } from "../../src/store/run-step.ts";

let store: Store;
beforeEach(async () => {
  store = await openMemory();
});
afterEach(() => store.close());

describe("runScript()", () => {
  it("binds each statement with the values it names", async () => {
    await runScript(
      store.connection,
      "create temp table a as select $first::integer as x; insert into a values ($second); insert into a values (3);",
      { first: 1, second: 2 },
    );
    const { x } = await columns(store.connection, "select x from a order by x", { x: "integer" });
    expect(Array.from(x)).toEqual([1, 2, 3]);
  });

  it("refuses a name nobody gave a value", async () => {
    await expect(runScript(store.connection, "select $missing")).rejects.toThrow("no value for $missing");
  });
});

describe("runStep()", () => {
  it("runs a file of pipelines/sql", async () => {
    const instance = await DuckDBInstance.create(":memory:");
    const connection = await instance.connect();
    await runStep(connection, "00_schema");
    const { name } = await columns(
      connection,
      "select schema_name || '.' || table_name as name from duckdb_tables() where schema_name = 'records' order by all",
      { name: "text" },
    );
    expect(name).toEqual([
      "records.bearing_row",
      "records.fitting_row",
      "records.near_miss",
      "records.part_row",
      "records.reading_row",
      "records.rebuild_row",
      "records.retirement_row",
      "records.stock_row",
      "records.unit_row",
    ]);
    connection.closeSync();
    instance.closeSync();
  });

  it("says which step is missing", async () => {
    await expect(runStep(store.connection, "99_none")).rejects.toThrow("99_none.sql");
  });
});
