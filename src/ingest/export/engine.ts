import { type DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";

/** An engine of its own for reading files, with its temporary data in `scratch`; gone when `use` ends. */
export async function withEngine<T>(scratch: string, use: (connection: DuckDBConnection) => Promise<T>): Promise<T> {
  const instance = await DuckDBInstance.create(":memory:", {
    autoinstall_known_extensions: "false",
    autoload_known_extensions: "false",
    memory_limit: "1GB",
    temp_directory: scratch,
  });
  const connection = await instance.connect();
  try {
    await connection.run("set TimeZone = 'UTC'");
    return await use(connection);
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}
