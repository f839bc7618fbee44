import { basename, join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { type EngineUse, startEngine } from "../../store/engine.ts";
import { memorySpillFolder } from "../../store/spill-folder.ts";

// More is no faster: it reads a piece at a time.
const MOST = 1e9;

/** An engine of its own for reading files, with its temporary data in a folder of `scratch`; gone when `use` ends. */
export async function withEngine<T>(
  scratch: string,
  use: (connection: DuckDBConnection) => Promise<T>,
  { memory = MOST }: EngineUse = {},
): Promise<T> {
  const { connection, close } = await startEngine(":memory:", join(scratch, basename(memorySpillFolder())), {
    memory: Math.min(memory, MOST),
  });
  try {
    await connection.run("set TimeZone = 'UTC'");
    return await use(connection);
  } finally {
    close();
  }
}
