import type { CountedFleet } from "./counted-fleet.ts";
import { entities, entityWord } from "./entity-words.ts";
import { ENOUGH_FOR_OWN_SPREAD } from "./judged-fleet.ts";
import { mergedWarnings } from "./merged-warnings.ts";
import type { MovedLives } from "./moved-lives.ts";
import type { EntityKind, JudgedFleet, OffendersAnswer } from "./offenders-answer.ts";
import { groupTitle, type Source } from "./scope.ts";
import { count, inWords } from "./wording.ts";

/** Under so many failures to be expected of each even a fourfold rate is seldom seen: three are what two in three need. */
const ENOUGH_EXPECTED = 3;
/** Twice the gain in log-likelihood from which two groups are taken to be there. */
const CLEAR = 6;

/** What to be careful of in a list of offenders. */
export function offendersWarnings(answer: OffendersAnswer, counted: CountedFleet[], source: Source): string[] {
  const named = answer.entities.some(({ verdict }) => verdict !== "within chance");
  const luck = named
    ? [
        "the worst of last year look better next year with nothing done: part of every such list is bad luck that does not last",
      ]
    : [];
  const fleets = answer.fleets.map((fleet, at) => ({
    title: fleet.fleet === null ? "All" : groupTitle({ fleet: fleet.fleet }, source),
    warnings: fleetWarnings(fleet, counted[at]!, answer),
  }));
  return [...luck, ...(fleets.length === 1 ? fleets[0]!.warnings : mergedWarnings(fleets))];
}

/** Where parts moved on with their frame, and are still counted where they went in. */
export function movedWarnings({ moved, of }: MovedLives, { kind }: { kind: EntityKind }): string[] {
  if (moved === 0) return [];
  return [
    `a part that stays in its frame is counted, with all its time, at the ${entityWord(kind)} where it was fitted: ${inWords(moved)} of ${count(of, "failure")} came at another; without --slot each build is counted where it ran`,
  ];
}

function fleetWarnings(fleet: JudgedFleet, counted: CountedFleet, { by }: OffendersAnswer): string[] {
  const found: string[] = [];
  const word = entityWord(by);
  const plural = entities(2, by).slice(2);
  if (fleet.reason !== undefined) found.push(`no verdict: ${fleet.reason}`);
  const expected = fleet.events / Math.max(fleet.entities, 1);
  if (fleet.events > 0 && expected < ENOUGH_EXPECTED)
    found.push(`with ${inWords(expected)} failures expected of each ${word} on average many offenders stay unseen`);
  if (fleet.gain !== null && fleet.gain < CLEAR && fleet.events > 0)
    found.push(
      `the records do not show clearly that some ${plural} come back more often than the rest (likelihood gain ${inWords(fleet.gain)}, where a verdict needs ${CLEAR}): none is called an offender`,
    );
  if (fleet.entities < ENOUGH_FOR_OWN_SPREAD && fleet.spreadFrom === "this fleet")
    found.push(`how far ordinary rates differ is known poorly from ${entities(fleet.entities, by)}`);
  if (fleet.chanceBy === "renewal counts")
    found.push(
      "times between failures are not spread as pure chance would spread them: chances of a count are reckoned by renewal, not by Poisson's law",
    );
  if (counted.basis.unknown > 0)
    found.push(
      count(
        counted.basis.unknown,
        "rebuild that says nothing of failure is not counted as one",
        "rebuilds that say nothing of failure are not counted as failures",
      ),
    );
  if (counted.alone > 0)
    found.push(`${count(counted.alone, "failure")} at ages that no other reached: nothing can be expected there`);
  if (by === "unit" && counted.crossed === null && counted.stretches !== null)
    found.push("not every build has a position on record: whether the frame or the place is to blame can't be told");
  return found;
}
