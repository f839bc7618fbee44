import type { Entity } from "../../src/questions/offenders-answer.ts";
import type { RegisteredBuild, RegisteredFrame, RegisteredPosition } from "../../src/questions/register-types.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { verdictWords } from "./verdict-words.ts";

/** Words in order, of which some name another entry. */
export type EntryWords = (string | { position: string } | { unit: string })[];

/** Where a frame is, or what became of it. */
export function frameStands({
  builds,
  position,
  since,
  lastOut,
  runs,
  assumedRunning,
  retiredOn,
  followedTo,
}: RegisteredFrame): EntryWords {
  const at: EntryWords = position === "" ? [] : [" at ", { position }];
  if (retiredOn !== "") return [`Out of use since ${retiredOn}`, ...(position === "" ? [] : ["; last", ...at])];
  if (builds === 0) return ["No build on record", ...(position === "" ? [] : ["; listed", ...at])];
  if (!runs) return [`Taken out on ${lastOut || followedTo || "a day not known"}, not back since; last`, ...at];
  const begun = since === "" ? ", since when is not known" : ` since ${since}`;
  return [assumedRunning ? "Taken to run still" : "Runs", ...at, begun];
}

/** What stands at a position, or stood there last. */
export function positionStands({ unit, since, followedTo, runs }: RegisteredPosition): EntryWords {
  if (runs) return [{ unit }, since === "" ? " runs here" : ` runs here since ${since}`];
  return ["Last here: ", { unit }, followedTo === "" ? "" : `, up to ${followedTo}`];
}

/** "7 builds, 3 failures where 1.9 were expected"; where not all of them can be judged, how many are. */
export function countedWords({ builds, failures }: { builds: number; failures: number }, entity?: Entity): string {
  const all = `${count(builds, "build")}, ${count(failures, "failure")}`;
  if (entity === undefined || entity.expected <= 0) return all;
  const judged = entity.events >= failures ? "" : `; ${entity.events} can be judged,`;
  return `${all}${judged} where ${inWords(entity.expected)} ${entity.expected === 1 ? "was" : "were"} expected`;
}

/** The verdict on one that stands out; of the others there is nothing to say. */
export function outWords(entity: Entity | undefined): string | null {
  return entity === undefined || entity.verdict === "within chance" ? null : verdictWords(entity.verdict);
}

/** What had failed, was worn or damaged, each slot by its title. */
export function badLines({ found }: Pick<RegisteredBuild, "found">, slots: Record<string, string>): string[] {
  return found.map(({ slot, condition, damageMode }) => {
    const what = [condition, damageMode].filter((word) => word !== "").map((word) => word.replaceAll("_", " "));
    return `${slots[slot] ?? slot}: ${what.join(", ")}`;
  });
}

/** The rows of its start and its end: "cards.csv:52", or "cards.csv:52, 67" where both stand in one file. */
export function sourceLines({
  startSource,
  stopSource,
}: Pick<RegisteredBuild, "startSource" | "stopSource">): string[] {
  const both = [startSource, stopSource].filter((source, at, all) => source !== "" && all.indexOf(source) === at);
  const [first, second] = both.map((source) => source.split(/:(?=\d+$)/));
  if (first === undefined || second === undefined || first[0] !== second[0]) return both;
  return [`${both[0]}, ${second[1]}`];
}
