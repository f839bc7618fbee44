import type { DuckDBConnection } from "@duckdb/node-api";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { inUnitsOf } from "./units.ts";

/**
 * Builds the temporary table `built`: each frame that left the bench, as its card says it was built, and how its time in service went.
 * The connection holds `installation` and `as_of`.
 * @example await deriveBuilt(store.connection, workspace.configuration);
 */
export async function deriveBuilt(
  connection: DuckDBConnection,
  { display }: Pick<Configuration, "display">,
): Promise<void> {
  await runStep(connection, "59_built", inUnitsOf(display));
}
