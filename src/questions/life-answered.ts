import type { DuckDBConnection } from "@duckdb/node-api";
import type { LifeAnswer, LifeGroup } from "./answer.ts";
import { sumOfBases } from "./basis.ts";
import { outcomeWarnings } from "./conditions.ts";
import type { GroupOfLives } from "./group-lives.ts";
import { compareGroups, manyGroups, withFixed } from "./grouping.ts";
import { type Answered, addRatios, comparisonsOf } from "./life-comparison.ts";
import { lifeGroup } from "./life-group.ts";
import { pooledGroups } from "./life-pooled.ts";
import { addRatings, ratingWarnings } from "./life-rating.ts";
import { lifeSentence } from "./life-sentence.ts";
import { answerWarnings } from "./life-warnings.ts";
import { rowsCommand } from "./rows-command.ts";
import { type LifeQuestion, type Source, sourceWarnings } from "./scope.ts";
import { unmetWarnings } from "./unmet-condition.ts";

/** Answers each group by its own lives, in the order given. */
export type AnswerEach = (groups: GroupOfLives[], question: LifeQuestion) => LifeGroup[] | Promise<LifeGroup[]>;

const oneByOne: AnswerEach = (groups, question) => groups.map((lives) => lifeGroup(lives, question));

/** The answer of groups whose lives are read. */
export async function lifeAnswered(
  connection: DuckDBConnection,
  groups: GroupOfLives[],
  question: LifeQuestion,
  source: Source,
  answerEach: AnswerEach = oneByOne,
): Promise<LifeAnswer> {
  const asked = {
    ...question,
    checks: question.checks && groups.length <= MOST_CHECKED,
    curves: question.curves || groups.length <= MOST_CHECKED,
  };
  const found = await answerEach(groups, asked);
  const answered = groups.map((lives, at) => ({
    lives,
    group: { ...found[at]!, by: withFixed(lives.by, question, source) },
  }));
  if (question.rating) {
    await addRatings(
      connection,
      answered.map(({ group }) => group),
      question,
      source,
    );
  }
  const inOrder = answered.toSorted((one, other) => compareGroups(one.group, other.group));
  const answer = answerOf(inOrder, question, source);
  if (groups.length === 0) answer.warnings.push(...(await unmetWarnings(connection, "studied", question.where)));
  return answer;
}

/** Over so many groups no one reads how well the law fits each, nor its curves unless they are drawn on pages. */
const MOST_CHECKED = 50;

/** An answer of groups that are answered already. */
function answerOf(answered: Answered[], question: LifeQuestion, source: Source): LifeAnswer {
  const groups = answered.map(({ group }) => group);
  const comparisons = comparisonsOf(answered);
  addRatios(comparisons, groups);
  if (question.pool) {
    const pooled = pooledGroups(answered, comparisons, question.level);
    for (const [place, { group }] of answered.entries()) group.pooled = pooled[place] ?? null;
  }
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
      ...ratingWarnings(groups),
    ],
    rows: rowsCommand("life", question, source),
    groups,
    comparisons,
  };
}
