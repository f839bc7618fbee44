import type { Entity } from "../../src/questions/offenders-answer.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";
import type { FleetRegister, RegisteredFrame, RegisteredPosition } from "../../src/questions/register-types.ts";
import { allOf, count } from "../../src/questions/wording.ts";
import type { EntryKind } from "../../src/report/entry-names.ts";
import { type EntryPart, entryParts } from "./entry-parts.ts";
import { type EntryWords, frameStands, outWords, positionStands } from "./entry-words.ts";

/** One entry, ready to be shown. */
export type Entry = {
  id: string;
  models: string;
  stands: EntryWords;
  builds: number;
  failures: number;
  entity: Entity | undefined;
  /** It has a page of its own. */
  alone: boolean;
};

/** Every frame, or every position, of a fleet: what its pages share, so that each costs its own entries alone. */
export type EntryList = {
  kind: EntryKind;
  /** How many there are, and how many of them stand out. */
  size: number;
  out: number;
  /** How they stand, in a sentence. */
  said: string;
  /** The pages over which they are laid, with the first and the last name of each. */
  parts: (EntryPart & { first: string; last: string })[];
  entriesOf: (part: EntryPart) => Entry[];
};

export function entryList(fleet: FleetOverview, register: FleetRegister, kind: EntryKind): EntryList {
  const { entities } = fleet.offenders[kind];
  const judged = new Map(entities.map((entity) => [entity.id, entity]));
  const alone = new Set(fleet.dossiers.filter((dossier) => dossier.kind === kind).map(({ id }) => id));
  const common = { kind, out: entities.filter((entity) => outWords(entity) !== null).length };
  const listed = <T extends Listed>(own: T[], words: (one: T) => Pick<Entry, "models" | "stands">) => ({
    size: own.length,
    parts: entryParts(own).map(({ from, to }) => ({ from, to, first: own[from]!.id, last: own[to - 1]!.id })),
    entriesOf: ({ from, to }: EntryPart) =>
      own.slice(from, to).map((one): Entry => {
        const { id, builds, failures } = one;
        return { id, builds, failures, ...words(one), entity: judged.get(id), alone: alone.has(id) };
      }),
  });
  const { frames, positions } = register;
  return kind === "unit"
    ? { ...common, said: framesSaid(frames), ...listed(frames, frameWords) }
    : { ...common, said: positionsSaid(positions), ...listed(positions, positionWords) };
}

type Listed = Pick<Entry, "id" | "builds" | "failures">;

function frameWords(frame: RegisteredFrame): Pick<Entry, "models" | "stands"> {
  return { models: frame.models, stands: frameStands(frame) };
}

function positionWords(position: RegisteredPosition): Pick<Entry, "models" | "stands"> {
  return { models: count(position.frames, "frame"), stands: positionStands(position) };
}

function framesSaid(frames: RegisteredFrame[]): string {
  const running = frames.filter(({ runs }) => runs).length;
  const retired = frames.filter(({ retiredOn }) => retiredOn !== "").length;
  const waiting = frames.filter(({ runs, retiredOn, builds }) => !runs && retiredOn === "" && builds > 0).length;
  const number = (of: number, one: string, many: string) => `${of.toLocaleString("en-US")} ${of === 1 ? one : many}`;
  const parts = [
    `${number(running, "runs (or is taken to run)", "run (or are taken to run)")}`,
    ...(waiting === 0
      ? []
      : [`${number(waiting, "was", "were")} taken out and ${waiting === 1 ? "is" : "are"} not back in service`]),
    `${number(retired, "is", "are")} out of use`,
  ];
  return `Of ${count(frames.length, "frame")} ${allOf(parts)}.`;
}

function positionsSaid(positions: RegisteredPosition[]): string {
  const taken = positions.filter(({ runs }) => runs).length;
  return `At ${taken.toLocaleString("en-US")} of ${count(positions.length, "position")} a frame runs, as far as is on record.`;
}
