import { inflateRawSync } from "node:zlib";
import type { DuckDBConnection } from "@duckdb/node-api";

/** An answer of a run: the command that gives it, its sentence, and all of it as JSON, deflated. */
export type KeptAnswer = { command: string; fleet: string; sentence: string; packed: Uint8Array };

/** Keeps the answers of a run in `results.answer`, in place of those of the run before, in one transaction. */
export async function keepAnswers(
  connection: DuckDBConnection,
  asOf: string | null,
  answers: KeptAnswer[],
): Promise<void> {
  await connection.run("begin");
  try {
    await connection.run("delete from results.answer");
    for (const { command, fleet, sentence, packed } of answers) {
      await connection.run(
        "insert into results.answer values ($command, $fleet, $as_of::date, $sentence, $answer::json)",
        { command, fleet, as_of: asOf, sentence, answer: inflateRawSync(packed).toString() },
      );
    }
    await connection.run("commit");
  } catch (error) {
    // After a commit that failed there is nothing left to roll back.
    await connection.run("rollback").catch(() => {});
    throw error;
  }
}
