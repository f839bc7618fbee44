import type { DuckDBConnection } from "@duckdb/node-api";
import type { NamedPipeline } from "../../workspace/workspace.ts";
import { pipelineFault } from "./pipeline-fault.ts";

/** Lets the engine try the patterns under `not_data`, for their rules are its own. @throws UserError naming the pattern */
export async function checkNotData(connection: DuckDBConnection, named: NamedPipeline): Promise<void> {
  for (const [index, { matches }] of named.pipeline.not_data.entries()) {
    try {
      await connection.run("select regexp_full_match('', $matches, 'i')", { matches });
    } catch (error) {
      const text = error instanceof Error ? (error.message.split("\n")[0] ?? "") : String(error);
      throw pipelineFault(
        named,
        ["not_data", String(index), "matches"],
        `"${matches}" is no regular expression (${text.replace(/^[A-Za-z ]+Error: /, "")}); correct it`,
      );
    }
  }
}
