import type { DuckDBConnection } from "@duckdb/node-api";
import type { LifeAnswer, LifeGroup } from "./answer.ts";
import { sumOfBases } from "./basis.ts";
import { groupLives } from "./group-lives.ts";
import { compareGroups, groupedBy, withFixed } from "./grouping.ts";
import { lifeGroup } from "./life-group.ts";
import { answerWarnings } from "./life-warnings.ts";
import { rowsCommand } from "./rows-command.ts";
import { groupTitle, type LifeQuestion, type Source } from "./scope.ts";
import { count, unitOf, withLimits } from "./wording.ts";

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
    answer: sentence(groups, source, clock),
    asOf: source.kind === "workspace" ? source.asOf : null,
    clock,
    level: question.level,
    basis: sumOfBases(groups.map(({ basis }) => basis)),
    warnings: answerWarnings(groups, source),
    rows: rowsCommand("life", question, source),
    groups,
  };
}

function sentence(groups: LifeGroup[], source: Source, clock: LifeAnswer["clock"]): string {
  if (groups.length === 0) return "No life meets the question: widen --fleet, --slot or --where.";
  const known = groups
    .filter(({ l10 }) => l10.estimate !== null)
    .toSorted((a, b) => (a.l10.estimate ?? 0) - (b.l10.estimate ?? 0));
  const [first] = known;
  if (groups.length === 1) return `${oneGroup(groups[0]!, source, clock)}.`;
  if (first === undefined)
    return `No group has the failures that a life needs; the first: ${oneGroup(groups[0]!, source, clock)}.`;
  const last = known.at(-1);
  const longest =
    last === undefined || last === first
      ? ""
      : `; longest: ${groupTitle(last.by, source)}, ${withLimits(last.l10, unitOf(clock))}`;
  return `Shortest-lived of ${ofWhat(groups)}: ${oneGroup(first, source, clock)}${longest}.`;
}

/** "5 slots" where slots alone are told apart, else "15 groups". */
function ofWhat(groups: LifeGroup[]): string {
  const differing = Object.keys(groups[0]?.by ?? {}).filter((key) => new Set(groups.map(({ by }) => by[key])).size > 1);
  return count(groups.length, differing.length === 1 && differing[0] === "slot" ? "slot" : "group");
}

/** "Drive-end bearings at Saltmere: 10 % have failed by 5,910 h (4,720 to 7,130), from 61 failures in 148 lives; failures rise with age". */
function oneGroup(group: LifeGroup, source: Source, clock: LifeAnswer["clock"]): string {
  const title = groupTitle(group.by, source);
  const from = `${count(group.basis.failed, "failure")} in ${count(group.basis.lives, "life", "lives")}`;
  if (group.l10.estimate === null) return `${title}: no answer yet from ${from}: ${group.l10.reason ?? "no estimate"}`;
  return `${title}: 10 % have failed by ${withLimits(group.l10, unitOf(clock))}, from ${from}; ${ageing(group)}`;
}

function ageing({ shape: { estimate, low, high } }: LifeGroup): string {
  if (low !== null && low > 1) return "failures rise with age";
  if (high !== null && high < 1) return "failures fall with age, early ones lead";
  return `whether failures rise with age can't be told, for the shape is ${withLimits({ estimate, low, high }, "")}`;
}
