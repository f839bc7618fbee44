import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { askSql } from "../../src/store/ask-sql.ts";
import { openStore, type Store } from "../../src/store/open-store.ts";

let folder = "";
let store: Store;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-ask-"));
  (await openStore(join(folder, "store.duckdb"), "write")).close();
  store = await openStore(join(folder, "store.duckdb"), "read");
});
afterAll(() => {
  store.close();
  rmSync(folder, { recursive: true, force: true });
});

describe("askSql()", () => {
  it.each([
    "select 1 as a",
    "from landing.file",
    "with x as (select 1) select * from x",
    "values (1), (2)",
    "table landing.file",
    "describe landing.file",
    "summarize landing.file",
    "show tables",
    "explain select 1",
    "select * from duckdb_settings()",
    "select 1;",
  ])("answers %s", async (sql) => {
    expect((await askSql(store.connection, sql)).names.length).toBeGreaterThan(0);
  });

  it.each([
    "set threads = 1",
    "set schema = 'records'",
    "set search_path = 'records'",
    "set variable x = 1",
    "reset threads",
    "use records",
    "pragma enable_profiling",
    "call enable_logging(storage = 'file', storage_path = 'FOLDER/logs')",
    "call disable_logging()",
    "call pragma_database_size()",
    "checkpoint",
    "vacuum",
    "analyze",
    "begin",
    "create temp table x as select 1",
    "attach ':memory:' as other",
    "copy (select 1) to 'FOLDER/out.csv'",
    "explain analyze copy (select 1) to 'FOLDER/out.csv'",
    "export database 'FOLDER/db'",
    "install httpfs",
    "load httpfs",
    "prepare p as select 1",
    "execute p",
    "delete from landing.file",
    "select * from read_text('FOLDER/store.duckdb')",
    "select * from glob('FOLDER/*')",
    "from 'FOLDER/store.duckdb'",
    "select 1; select 2",
    "create persistent secret s (type http, bearer_token 'b')",
    "",
    " ; ",
  ])("refuses %s, in words", async (sql) => {
    await expect(askSql(store.connection, sql.replaceAll("FOLDER", folder))).rejects.toThrow(
      /^Cannot answer the query: /,
    );
    expect(["logs", "out.csv", "db"].filter((name) => existsSync(join(folder, name)))).toEqual([]);
  });

  it("says what kind of statement it was", async () => {
    await expect(askSql(store.connection, "call pragma_database_size()")).rejects.toThrow(
      'it is a statement of the kind "call"; write one SELECT',
    );
  });
});
