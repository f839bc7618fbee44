import { type DuckDBConnection, DuckDBInstance } from "@duckdb/node-api";
import { defaultMemory } from "./memory-size.ts";
import { removeSpill } from "./spill-folder.ts";

/** How an engine is to be used, as the user said. */
export type EngineUse = {
  /** Bytes of memory that it may take. */
  memory?: number;
  /** Threads that a statement may take; one for each core where not given. */
  threads?: number;
};

/** An engine; to be closed, which takes away what it put aside. */
export type Engine = { connection: DuckDBConnection; close: () => void };

const OFFLINE = { autoinstall_known_extensions: "false", autoload_known_extensions: "false" };

/** What the engine has let go of goes back to the system soon: by itself its allocator keeps up to half a gigabyte, which no limit counts. */
const LETTING_GO = {
  allocator_background_threads: "true",
  allocator_flush_threshold: "16MiB",
  allocator_bulk_deallocation_flush_threshold: "16MiB",
};

/**
 * Starts an engine on a file, or in memory with ":memory:".
 * @param spill - folder of its own in which it puts aside what its memory does not hold
 * @param more - settings beside; they can't be given later where one of them bars that
 */
export async function startEngine(
  file: string,
  spill: string,
  { memory = defaultMemory(), threads }: EngineUse = {},
  more: Record<string, string> = {},
): Promise<Engine> {
  // The order matters: without external access the engine takes no folder any more.
  const instance = await DuckDBInstance.create(file, {
    ...OFFLINE,
    ...LETTING_GO,
    memory_limit: `${memory}B`,
    temp_directory: spill,
    ...(threads !== undefined && { threads: String(threads) }),
    ...more,
  });
  try {
    const connection = await instance.connect();
    return {
      connection,
      close: () => {
        connection.closeSync();
        instance.closeSync();
        removeSpill(spill);
      },
    };
  } catch (error) {
    instance.closeSync();
    throw error;
  }
}
