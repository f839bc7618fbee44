import type { DuckDBConnection } from "@duckdb/node-api";
import type { LifeAnswer } from "./answer.ts";
import { sumOfBases } from "./basis.ts";
import { outcomeWarnings } from "./conditions.ts";
import { groupLives } from "./group-lives.ts";
import { compareGroups, groupedBy, manyGroups, withFixed } from "./grouping.ts";
import { lifeGroup } from "./life-group.ts";
import { lifeSentence } from "./life-sentence.ts";
import { answerWarnings } from "./life-warnings.ts";
import { rowsCommand } from "./rows-command.ts";
import { type LifeQuestion, type Source, sourceWarnings } from "./scope.ts";

/**
 * How long a component lasts, with its certainty: per fleet and slot, or per group of a plain table.
 * The connection holds `studied`; nothing is written to the store.
 */
export async function askLife(
  connection: DuckDBConnection,
  question: LifeQuestion,
  source: Source,
): Promise<LifeAnswer> {
  const by = groupedBy(question, source, ["fleet", "slot"]);
  const groups = (await groupLives(connection, question, by))
    .map((lives) => ({
      ...lifeGroup(lives, question),
      by: withFixed(lives.by, question, source),
    }))
    .toSorted(compareGroups);
  const clock = source.kind === "workspace" ? question.clock : null;
  return {
    schema: 1,
    command: "life",
    answer: lifeSentence(groups, source, clock),
    asOf: source.kind === "workspace" ? source.asOf : null,
    clock,
    level: question.level,
    basis: sumOfBases(groups.map(({ basis }) => basis)),
    warnings: [
      ...sourceWarnings(source),
      ...outcomeWarnings(question.where),
      ...manyGroups(groups),
      ...answerWarnings(groups, source),
    ],
    rows: rowsCommand("life", question, source),
    groups,
    comparison: null,
  };
}
