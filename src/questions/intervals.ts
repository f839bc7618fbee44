import type { DuckDBConnection } from "@duckdb/node-api";
import type { IntervalsAnswer, IntervalsGroup } from "./answer.ts";
import { sumOfBases } from "./basis.ts";
import { comparedGroups, ENOUGH_TO_NAME, nameable, ofThese } from "./compared-groups.ts";
import { outcomeWarnings } from "./conditions.ts";
import { groupHistories } from "./group-histories.ts";
import { compareGroups, groupedBy, manyGroups, withFixed } from "./grouping.ts";
import { intervalsGroup } from "./intervals-group.ts";
import { meanDifferences } from "./mean-differences.ts";
import { mergedWarnings } from "./merged-warnings.ts";
import { rowsCommand } from "./rows-command.ts";
import { groupTitle, type IntervalsQuestion, type Source, sourceWarnings } from "./scope.ts";
import { unmetWarnings } from "./unmet-condition.ts";
import { count, inWords, unitOf, withLimits } from "./wording.ts";

/**
 * How long between rebuilds, with its certainty: per fleet, or per group of a plain table.
 * The connection holds `observed`; nothing is written to the store.
 */
export async function askIntervals(
  connection: DuckDBConnection,
  question: IntervalsQuestion,
  source: Source,
): Promise<IntervalsAnswer> {
  const by = groupedBy(question, source, ["fleet"]);
  const histories = (await groupHistories(connection, question, by))
    .map((own) => ({ ...own, by: withFixed(own.by, question, source) }))
    .toSorted(compareGroups);
  const closely = histories.length <= MOST_CLOSELY;
  const groups = histories.map((own) => intervalsGroup(own, question, closely));
  const clock = source.kind === "workspace" ? question.clock : null;
  return {
    schema: 1,
    command: "intervals",
    answer: sentence(groups, source, clock),
    asOf: source.kind === "workspace" ? source.asOf : null,
    clock,
    level: question.level,
    basis: sumOfBases(groups.map(({ basis }) => basis)),
    warnings: [
      ...sourceWarnings(source),
      ...outcomeWarnings(question.where),
      ...(groups.length === 0 ? await unmetWarnings(connection, "observed", question.where) : []),
      ...manyGroups(groups),
      ...mergedWarnings(groups.map((group) => ({ title: groupTitle(group.by, source), warnings: group.warnings }))),
    ],
    rows: rowsCommand(question.slot === undefined ? "installation" : "life", question, source),
    groups,
    differences: closely ? meanDifferences(histories, question) : [],
  };
}

/** Over so many groups no one reads how well a law fits each, nor how each differs from another. */
const MOST_CLOSELY = 50;

function sentence(groups: IntervalsGroup[], source: Source, clock: IntervalsAnswer["clock"]): string {
  if (groups.length === 0) return "No rebuild history meets the question: widen --fleet, --slot, --where or --as-of.";
  if (groups.length === 1) return `${groupTitle(groups[0]!.by, source)}: ${rateOf(groups[0]!, clock)}.`;
  const { lead, among, titleOf } = comparedGroups(groups, source);
  const known = nameable(groups, ({ events }) => events.failure);
  const first = known.toSorted((a, b) => (a.mtbr.failure.estimate ?? 0) - (b.mtbr.failure.estimate ?? 0))[0];
  if (first === undefined)
    return `${lead(`fewer than ${ENOUGH_TO_NAME} failures on record for each`)} of ${among}: too few to name one.`;
  return `${lead("most often back for failure")} of ${ofThese(known.length, groups.length, among)}: ${titleOf(first)}, ${rateOf(first, clock)}.`;
}

/**
 * "a rebuild for failure every 6,210 h of service (5,480 to 7,050), from 251 failures and 60 planned rebuilds on 45 units"; "of known
 * service" where more are on record, so that the count doesn't seem to be of all.
 */
function rateOf({ by, units, events, mtbr, basis }: IntervalsGroup, clock: IntervalsAnswer["clock"]): string {
  const what = by["slot"] === undefined ? "rebuild" : "replacement";
  const planned =
    what === "rebuild"
      ? count(events.planned, "planned rebuild")
      : count(events.planned, "replacement of unfailed ones", "replacements of unfailed ones");
  const from = `from ${count(events.failure, "failure")} and ${planned}${isEmpty(basis.leftOut) ? "" : " of known service"} on ${count(units, "unit")}`;
  const { estimate, low } = mtbr.failure;
  if (estimate !== null) {
    return `a ${what} for failure every ${withLimits(mtbr.failure, clock === null ? "" : `${unitOf(clock)} of service`)}, ${from}`;
  }
  const least = low === null ? "" : `; the mean time between them is at least ${inWords(low)}${unitOf(clock)}`;
  return `no ${what} for failure on record, ${from}${least}`;
}

function isEmpty(leftOut: IntervalsGroup["basis"]["leftOut"]): boolean {
  return Object.keys(leftOut).length === 0;
}
