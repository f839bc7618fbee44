import { entityWord } from "../../src/questions/entity-words.ts";
import { standsOut } from "../../src/questions/offenders.ts";
import type { Entity, EntityKind } from "../../src/questions/offenders-answer.ts";
import type { TimelineRow } from "../../src/questions/overview-types.ts";
import type { MeanDifference } from "../../src/questions/recurrence-answer.ts";
import { allOf, count, inWords, withLimits } from "../../src/questions/wording.ts";
import type { MeanCountStep } from "../../src/stats/recurrence/mean-count.ts";
import { entitiesWord } from "./entities-word.ts";

/** Those named in a title. */
const NAMED = 2;

/** How often a unit comes back; at the last rebuild that has limits, for later ones rest on a unit or two. */
export function meanCountFinding(title: string, steps: MeanCountStep[], unit: string): string | undefined {
  const last = steps.findLast(({ low, high }) => low !== null && high !== null) ?? steps.at(-1);
  return last === undefined
    ? undefined
    : `${title}: ${withLimits(last, "")} rebuilds a unit by ${inWords(last.time)}${unit} of service`;
}

/** Who stands out from chance. */
export function funnelFinding(entities: Entity[], by: EntityKind): string {
  const out = entities.filter(standsOut);
  const all = `${entities.length.toLocaleString("en-US")} ${entitiesWord(by)}`;
  if (entities.length === 1 && out.length === 0) return `The only ${entityWord(by)} is within chance`;
  if (out.length === 0) return `None of ${all} stands out from chance`;
  const named = out
    .slice(0, NAMED)
    .map(({ id, events, expected }) => `${id} (${count(events, "failure")} where ${inWords(expected)} were expected)`);
  const more = out.length - named.length;
  return `${out.length} of ${all} ${out.length === 1 ? "stands" : "stand"} out: ${allOf([...named, ...(more > 0 ? [`${more} more`] : [])])}`;
}

/** Who has the highest rate after shrinkage. */
export function orderFinding([first]: Entity[]): string | undefined {
  return first === undefined
    ? undefined
    : `Highest is ${first.id}, at ${withLimits(first.shrunkenRatio, "")} times the ordinary rate`;
}

/** What is on record of some units together. */
export function timelineFinding(rows: TimelineRow[], units: number): string {
  return `${count(units, "unit")}: ${endsWords(rows)}`;
}

/** What is on record of the one in the first row. */
export function rowFinding(id: string, rows: TimelineRow[]): string {
  return `${id}: ${endsWords(rows)}`;
}

function endsWords(rows: TimelineRow[]): string {
  const ended = (how: TimelineRow["ends"]) => rows.filter(({ ends }) => ends === how).length;
  const [first] = rows.map(({ start }) => start).toSorted();
  return `${count(ended("failure"), "rebuild")} for failure and ${ended("planned").toLocaleString("en-US")} planned on record since ${first?.slice(0, 4) ?? "the first"}, of known service or not`;
}

/** Which group comes back more often than another for certain, the greatest difference first. */
export function groupsFinding(differences: MeanDifference[], names: string[], kind: string): string | undefined {
  const known = differences.flatMap(({ group, against, atEnd }) => {
    const { estimate = null, low = null, high = null } = atEnd?.difference ?? {};
    return estimate === null ? [] : [{ group, against, estimate, low, high }];
  });
  if (known.length === 0) return undefined;
  const [sure] = known
    .filter(({ low, high }) => (low ?? 0) > 0 || (high ?? 0) < 0)
    .toSorted((one, other) => Math.abs(other.estimate) - Math.abs(one.estimate));
  if (sure === undefined) return `No ${kind.toLowerCase()} comes back more often than another beyond chance`;
  const [more, less] = sure.estimate > 0 ? [sure.group, sure.against] : [sure.against, sure.group];
  const size =
    sure.estimate > 0 ? sure : { estimate: -sure.estimate, low: negative(sure.high), high: negative(sure.low) };
  return `${names[more] ?? ""} comes back more often than ${names[less] ?? ""}, by ${withLimits(size, "")} rebuilds a unit`;
}

function negative(value: number | null): number | null {
  return value === null ? null : -value;
}
