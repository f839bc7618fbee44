import type { DuckDBConnection } from "@duckdb/node-api";
import type { Overview } from "./overview-types.ts";

/** Keeps the answers of a run in `results.answer`, in place of those of the run before, in one transaction. */
export async function keepAnswers(connection: DuckDBConnection, overview: Overview): Promise<void> {
  await connection.run("begin");
  try {
    await connection.run("delete from results.answer");
    for (const { name, life, intervals, offenders } of overview.fleets) {
      for (const [command, answer] of [
        ["life", life],
        ["intervals", intervals],
        ["offenders", offenders.unit],
        ["offenders --by position", offenders.position],
      ] as const) {
        await connection.run(
          "insert into results.answer values ($command, $fleet, $as_of::date, $sentence, $answer::json)",
          {
            command,
            fleet: name,
            as_of: overview.asOf,
            sentence: answer.answer,
            answer: JSON.stringify(answer),
          },
        );
      }
    }
    await connection.run("commit");
  } catch (error) {
    // After a commit that failed there is nothing left to roll back.
    await connection.run("rollback").catch(() => {});
    throw error;
  }
}
