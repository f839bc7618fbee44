import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import { CANONICAL_FIELDS } from "./mapping/canonical-fields.ts";

/** A file of which nothing is left in the store; `olderState`: another state of it is, which lies in its place. */
export type ForgottenFile = { path: string /** Of a workbook. */; sheet?: string; olderState: boolean };

/**
 * Forgets, in one transaction, the files that are gone, and older states of files that hold records their newer state lacks. Other
 * versions of their records take their place. The exports kept beside the store stay.
 * @returns what was forgotten
 */
export async function forgetFiles(connection: DuckDBConnection): Promise<ForgottenFile[]> {
  await connection.run("begin");
  try {
    await runStep(connection, "16_forgettable");
    const found = await columns(connection, "from forgettable order by file_id", {
      file_id: "integer",
      path: "text",
      sheet: "text",
      older: "boolean",
    });
    for (const fileId of found.file_id) {
      await runStep(connection, "10_forget_file", { file_id: fileId });
      await runStep(connection, "11_file_gone", { file_id: fileId });
      await weigh(connection);
      await runStep(connection, "19_clear");
    }
    await connection.run("commit");
    return found.path.map((path, index) => {
      const sheet = found.sheet[index]!;
      return { path, ...(sheet === "" ? {} : { sheet }), olderState: found.older[index] === 1 };
    });
  } catch (error) {
    await connection.run("rollback");
    throw error;
  }
}

/** Weighs all versions of all records anew: the order of files has changed. To be called inside a transaction. */
export async function settle(connection: DuckDBConnection): Promise<void> {
  await runStep(connection, "19_clear");
  await weigh(connection);
  await runStep(connection, "19_clear");
}

async function weigh(connection: DuckDBConnection): Promise<void> {
  await runStep(connection, "21_nothing_incoming");
  for (const record of Object.keys(CANONICAL_FIELDS)) {
    await runStep(connection, "24_verdicts", { record, file_id: 0 });
    await runStep(connection, "26_standings");
  }
}
