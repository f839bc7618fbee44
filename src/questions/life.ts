import type { DuckDBConnection } from "@duckdb/node-api";
import type { LifeAnswer } from "./answer.ts";
import { addRunning, groupLives } from "./group-lives.ts";
import { groupedBy } from "./grouping.ts";
import type { AnswerEach } from "./life-answered.ts";
import type { LifeQuestion, Source } from "./scope.ts";

/**
 * How long a component lasts, with its certainty: per fleet and slot, or per group of a plain table.
 * The connection holds `studied`, and where a mission is asked of a workspace's units `installation`; nothing is written to the store.
 * @param answerEach - how groups are answered, where not one by one in this thread
 */
export async function askLife(
  connection: DuckDBConnection,
  question: LifeQuestion,
  source: Source,
  answerEach?: AnswerEach,
): Promise<LifeAnswer> {
  // What fits the lives is loaded while the engine looks through them.
  const answering = import("./life-answered.ts");
  const by = groupedBy(question, source, ["fleet", "slot"]);
  const groups = await groupLives(connection, question, { by, modes: question.modes, apart: byUnits(question) });
  if (question.mission.length > 0) await addRunning(connection, groups, source.kind);
  return (await answering).lifeAnswered(connection, groups, question, source, answerEach);
}

/** Whether limits depend on which life is of which unit. */
export function byUnits({ interval, shape }: LifeQuestion): boolean {
  return shape === undefined && interval !== "profile" && interval !== "wald";
}
