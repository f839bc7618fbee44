import { entities as counted, entityWord } from "./entity-words.ts";
import type { Entity, OffendersAnswer } from "./offenders-answer.ts";
import { groupTitle, type Source } from "./scope.ts";
import { allOf, count, inWords } from "./wording.ts";

/** Up to so many are named in one sentence. */
const NAMED = 3;

/** What an `offenders` answer says first: who comes back more often than chance explains, or that nobody does. */
export function offendersSentence(answer: OffendersAnswer, source: Source): string {
  const { fleets, entities, by } = answer;
  if (entities.length === 0)
    return `No ${entityWord(by)} meets the question: widen --fleet, --slot, --where or --as-of.`;
  const offenders = entities.filter(({ verdict }) => verdict === "offender");
  if (offenders.length > 0) return `${listed(offenders, answer, source)}.`;
  const of = ofAll(answer, source);
  const events = fleets.reduce((sum, fleet) => sum + fleet.events, 0);
  if (events === 0) return withNoneExpected(answer, of);
  return `None of ${of} comes back for failure more often than chance explains, from ${judgedWords(events, answer.basis)}; ${nearest(answer, source)}.`;
}

/** "341 failures", and that more are on record where some can't be judged. */
function judgedWords(events: number, { failed, leftOut }: OffendersAnswer["basis"]): string {
  const isAll = events === failed && Object.keys(leftOut).length === 0;
  return `${count(events, "failure")}${isAll ? "" : " that can be judged"}`;
}

/** No failure counts: there is none, or each fell where no other was at risk to expect one by. */
function withNoneExpected({ basis, entities }: OffendersAnswer, of: string): string {
  if (basis.failed === 0) return `No failure is on record of ${of}: nothing to tell them apart by.`;
  const whose = entities.length === 1 ? "its" : "their";
  const which = basis.failed === 1 ? `${whose} one failure` : `${whose} ${count(basis.failed, "failure")}`;
  return `Nothing can be expected of ${of}: ${which} fell at ages that no other reached; widen --fleet, --where or --as-of, so that there are others to tell by.`;
}

/** "2 of 48 frames at Saltmere come back for failure more often than chance explains: ...". */
function listed(offenders: Entity[], answer: OffendersAnswer, source: Source): string {
  const more = offenders.length - NAMED;
  const names = offenders.slice(0, NAMED).map((entity) => told(entity, answer, source));
  const list = more > 0 ? `${names.join(", ")} and ${more} more` : allOf(names);
  const wrong = answer.falseNamesExpected;
  const verb = offenders.length === 1 ? "comes" : "come";
  return `${offenders.length} of ${ofAll(answer, source)} ${verb} back for failure more often than chance explains: ${list}; false names to expect among them: ${wrong < 0.01 ? "under 0.01" : inWords(wrong)}${blame(answer, offenders[0]!)}`;
}

/** The one to watch, or the one with the most failures beyond those expected. */
function nearest(answer: OffendersAnswer, source: Source): string {
  const watched = answer.entities.find(({ verdict }) => verdict === "watch");
  if (watched !== undefined) return `to watch: ${told(watched, answer, source)}`;
  const [first] = answer.entities.toSorted((a, b) => b.events - b.expected - (a.events - a.expected));
  return `the most beyond what was expected: ${told(first!, answer, source)}, within chance`;
}

/** "48 frames at Saltmere", "160 frames of 3 fleets". */
function ofAll({ entities, by, slot, fleets }: OffendersAnswer, source: Source): string {
  const number = counted(entities.length, by);
  const where =
    fleets.length > 1
      ? ` of ${count(fleets.length, "fleet")}`
      : fleets[0]?.fleet == null
        ? ""
        : ` at ${groupTitle({ fleet: fleets[0].fleet }, source)}`;
  const what = slot === null ? "" : `, by their ${groupTitle({ slot }, source).toLowerCase()}`;
  return `${number}${where}${what}`;
}

/** "SM-031 (9 failures where 2.1 were expected)". */
function told({ id, fleet, events, expected }: Entity, { fleets }: OffendersAnswer, source: Source): string {
  const where = fleets.length > 1 && fleet !== null ? ` at ${groupTitle({ fleet }, source)}` : "";
  return `${id}${where} (${count(events, "failure")} where ${inWords(expected)} ${expected === 1 ? "was" : "were"} expected)`;
}

function blame({ unitOrPosition, by }: OffendersAnswer, first: Entity): string {
  const found = unitOrPosition.find(
    (one) => one.fleet === first.fleet && (by === "unit" ? one.unit : one.position) === first.id,
  );
  return found === undefined || found.verdict === "neither"
    ? ""
    : `; with ${first.id} it is ${found.says}`.replace("it is frame and place", "frame and place");
}
