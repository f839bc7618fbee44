import type { DuckDBConnection } from "@duckdb/node-api";
import { groupLives } from "./group-lives.ts";
import { compareGroups, groupedBy, withFixed } from "./grouping.ts";
import { byUnits } from "./life.ts";
import { comparisonsOf, MOST_COMPARED } from "./life-comparison.ts";
import { pooledGroups } from "./life-pooled.ts";
import type { FleetsCompared } from "./overview-types.ts";
import { rowsCommand } from "./rows-command.ts";
import type { LifeQuestion, Source } from "./scope.ts";

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
