import type { DuckDBConnection } from "@duckdb/node-api";
import type { LifeAnswer, LifeGroup } from "./answer.ts";
import { sumOfBases } from "./basis.ts";
import { outcomeWarnings } from "./conditions.ts";
import { addRunning, type GroupOfLives, groupLives } from "./group-lives.ts";
import { compareGroups, groupedBy, manyGroups, withFixed } from "./grouping.ts";
import { type Answered, addRatios, comparisonsOf, MOST_COMPARED } from "./life-comparison.ts";
import { lifeGroup } from "./life-group.ts";
import { pooledGroups } from "./life-pooled.ts";
import { addRatings, ratingWarnings } from "./life-rating.ts";
import { lifeSentence } from "./life-sentence.ts";
import { answerWarnings } from "./life-warnings.ts";
import type { FleetsCompared } from "./overview-types.ts";
import { rowsCommand } from "./rows-command.ts";
import { type LifeQuestion, type Source, sourceWarnings } from "./scope.ts";

/** Answers each group by its own lives, in the order given. */
type AnswerEach = (groups: GroupOfLives[], question: LifeQuestion) => LifeGroup[] | Promise<LifeGroup[]>;

const oneByOne: AnswerEach = (groups, question) => groups.map((lives) => lifeGroup(lives, question));

/**
 * How long a component lasts, with its certainty: per fleet and slot, or per group of a plain table.
 * The connection holds `studied`; nothing is written to the store.
 * @param answerEach - how groups are answered, where not one by one in this thread
 */
export async function askLife(
  connection: DuckDBConnection,
  question: LifeQuestion,
  source: Source,
  answerEach: AnswerEach = oneByOne,
): Promise<LifeAnswer> {
  return lifeAnswer(await answerGroups(connection, question, source, answerEach), question, source);
}

/** The groups that a question asks for, each answered by its own lives, in the order in which they are shown. */
async function answerGroups(
  connection: DuckDBConnection,
  question: LifeQuestion,
  source: Source,
  answerEach: AnswerEach,
): Promise<Answered[]> {
  const by = groupedBy(question, source, ["fleet", "slot"]);
  const groups = await groupLives(connection, question, { by, modes: question.modes, apart: byUnits(question) });
  if (question.mission.length > 0) await addRunning(connection, groups, source.kind === "workspace");
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
  return answered.toSorted((one, other) => compareGroups(one.group, other.group));
}

/**
 * The groups that a question asks for side by side, each slot's tested against each other and borrowing from each other: all that their lives tell
 * without a law of each, so that the ratios of their L10 are left to `addRatios`. Groups are in the order in which they are shown.
 */
export async function lifeCompared(
  connection: DuckDBConnection,
  question: LifeQuestion,
  source: Source,
): Promise<FleetsCompared> {
  const rows = rowsCommand("life", question, source);
  const fleets = source.kind === "workspace" ? source.configuration.fleets.length : 1;
  if (fleets < 2 || fleets > MOST_COMPARED) return { groups: [], comparisons: [], rows };
  const by = groupedBy(question, source, ["fleet", "slot"]);
  const found = await groupLives(connection, question, { by, modes: false, apart: byUnits(question) });
  const groups = found.map((lives) => ({ lives, group: { by: withFixed(lives.by, question, source) } }));
  groups.sort((one, other) => compareGroups(one.group, other.group));
  const comparisons = comparisonsOf(groups);
  const pooled = question.pool ? pooledGroups(groups, comparisons, question.level) : [];
  return {
    groups: groups.map(({ group }, place) => ({ ...group, pooled: pooled[place] ?? null })),
    comparisons,
    rows,
  };
}

/** Whether limits depend on which life is of which unit. */
function byUnits({ interval, shape }: LifeQuestion): boolean {
  return shape === undefined && interval !== "profile" && interval !== "wald";
}

/** Over so many groups no one reads how well the law fits each, nor its curves unless they are drawn on pages. */
const MOST_CHECKED = 50;

/** An answer of groups that are answered already. */
function lifeAnswer(answered: Answered[], question: LifeQuestion, source: Source): LifeAnswer {
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
