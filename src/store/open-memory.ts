import { startEngine } from "./engine.ts";
import { migrate } from "./migrate.ts";
import type { Store } from "./open-store.ts";
import { memorySpillFolder } from "./spill-folder.ts";

/** An empty store in memory, with the schema; for tests and for questions to a plain table. */
export async function openMemory(): Promise<Store> {
  const engine = await startEngine(":memory:", memorySpillFolder());
  await engine.connection.run("set TimeZone = 'UTC'");
  await migrate(engine.connection, ":memory:");
  return engine;
}
