import { DuckDBInstance } from "@duckdb/node-api";
import { migrate } from "./migrate.ts";
import type { Store } from "./open-store.ts";

/** An empty store in memory, with the schema; for tests and for questions to a plain table. */
export async function openMemory(): Promise<Store> {
  const instance = await DuckDBInstance.create(":memory:", {
    autoinstall_known_extensions: "false",
    autoload_known_extensions: "false",
  });
  const connection = await instance.connect();
  await connection.run("set TimeZone = 'UTC'");
  await migrate(connection, ":memory:");
  return {
    connection,
    close: () => {
      connection.closeSync();
      instance.closeSync();
    },
  };
}
