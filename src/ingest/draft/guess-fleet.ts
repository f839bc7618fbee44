import type { DraftField, DraftFleet } from "./draft.ts";
import { nameOf } from "./fleet-name.ts";
import { type DraftWord, wordQuestionId } from "./guess-words.ts";
import type { Match } from "./match-columns.ts";
import type { Question } from "./opinion.ts";
import { counted, percent, shown } from "./shown.ts";
import { isBlankMark } from "./vocabulary.ts";

export type FleetContext = {
  /** Fleets that there are already; none where a workspace is yet to be made. */
  known: DraftFleet[];
  /** For files that say no fleet. */
  otherwise: DraftFleet;
  /** Whether that one goes without saying. */
  isPlain: boolean;
};

/** The fleet of the rows: by their column of few values, else one for all. */
export function guessFleet(
  match: Match | undefined,
  rows: number,
  context: FleetContext,
): { field: DraftField; fleets: DraftFleet[] } {
  return match === undefined ? oneFleet(context) : byColumn(match, rows, context);
}

function oneFleet({ otherwise, isPlain, known }: FleetContext): { field: DraftField; fleets: DraftFleet[] } {
  const others = known.map(({ name }) => name).filter((name) => name !== otherwise.name);
  const text = `no column says the fleet; all rows are taken to be of "${otherwise.name}"`;
  const questions: Question[] = isPlain
    ? []
    : [{ id: "fleet", text, options: others.length === 0 ? [] : [otherwise.name, ...others], cells: 0 }];
  const field: DraftField = {
    key: "fleet",
    entries: [["value", otherwise.name]],
    evidence: "no column says the fleet",
    questions,
    sure: isPlain,
  };
  return { field, fleets: [otherwise] };
}

function byColumn(
  { column }: Match,
  rows: number,
  { known }: FleetContext,
): { field: DraftField; fleets: DraftFleet[] } {
  const fleets: DraftFleet[] = [];
  const questions: Question[] = [];
  const words = column.words.map(({ text, count }, index): DraftWord => {
    if (isBlankMark(text)) return { text, count, target: null, sure: true };
    const fleet = fleetOf(text, index, known);
    if (fleet === undefined) {
      const listed = known.map(({ name }) => name);
      questions.push({
        id: wordQuestionId("fleet", text),
        text: `${shown(text)} (${counted(count, "row")}) is no fleet of the workspace; add it there and here, or its rows are set aside`,
        options: ["leave open", ...listed],
        cells: count,
      });
      return { text, count, target: undefined, sure: false };
    }
    if (!fleets.some(({ name }) => name === fleet.name)) fleets.push(fleet);
    return { text, count, target: fleet.name, sure: true };
  });
  const evidence = `${counted(column.distinct, "different text")} in ${percent(column.filled, rows)} of the rows`;
  return {
    field: {
      key: "fleet",
      column,
      entries: [
        ["column", column.key],
        ["required", true],
      ],
      words,
      evidence,
      questions,
      sure: questions.length === 0,
    },
    fleets,
  };
}

function fleetOf(text: string, index: number, known: DraftFleet[]): DraftFleet | undefined {
  const name = nameOf(text, `fleet-${index + 1}`);
  if (known.length === 0) return { name, title: text };
  return known.find((fleet) => fleet.name === name || nameOf(fleet.title, "") === name);
}
