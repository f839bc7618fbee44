import { count, inWords, unitOf, wholePercent } from "../../src/questions/wording.ts";
import type { ReportInput } from "../report-input.ts";
import { type FleetStanding, standingOf } from "./fleet-standing.ts";

/** Lives lost to the state of the data beyond which a fleet's figures are told to be careful of. */
const MANY_UNUSABLE = 0.25;

/** The short answer over many fleets: where something stands out, what is shortest-lived, how far the data carry. */
export function standingSentences({ fleets }: ReportInput): string[] {
  const standings = fleets.map(standingOf);
  return [outWords(standings), ...shortestWords(standings, fleets[0]?.life.clock ?? null), ...dataWords(standings)];
}

function outWords(standings: FleetStanding[]): string {
  const sum = (kind: "frames" | "positions") => standings.reduce((total, one) => total + one[kind].offenders, 0);
  const where = standings.filter(({ frames, positions }) => frames.offenders + positions.offenders > 0).length;
  const of = count(standings.length, "fleet");
  const watched = standings.reduce((total, { frames, positions }) => total + frames.watch + positions.watch, 0);
  const watch =
    watched === 0 ? "" : `; ${watched.toLocaleString("en-US")} more ${watched === 1 ? "is" : "are"} to be watched`;
  if (where === 0)
    return `In none of ${of} does a frame or position come back more often than chance explains${watch}.`;
  const parts = [count(sum("frames"), "frame"), count(sum("positions"), "position")]
    .filter((part) => !part.startsWith("0 "))
    .join(" and ");
  return `In ${where.toLocaleString("en-US")} of ${of} something comes back for failure more often than chance explains: ${parts}${watch}.`;
}

function shortestWords(standings: FleetStanding[], clock: "hours" | "days" | null): string[] {
  const known = standings
    .flatMap(({ fleet, shortest }) => (shortest === null ? [] : [{ title: fleet.title, ...shortest }]))
    .toSorted((one, other) => one.l10.estimate - other.l10.estimate);
  const [first] = known;
  if (first === undefined) return [];
  const middle = known[Math.floor((known.length - 1) / 2)]!;
  const life = ({ l10 }: (typeof known)[number]) => `${inWords(l10.estimate)}${unitOf(clock)}`;
  const beside =
    known.length < 3 ? "" : `; of the fleet in the middle the shortest-lived slot has ${life(middle)} (${middle.slot})`;
  return [`The shortest L10 is that of ${first.slot} at ${first.title}: ${life(first)}${beside}.`];
}

function dataWords(standings: FleetStanding[]): string[] {
  const lost = standings.filter(({ unusable }) => unusable !== null && unusable > MANY_UNUSABLE).length;
  const bare = standings.filter(({ shortest }) => shortest === null).length;
  return [
    ...(lost === 0
      ? []
      : [
          `${count(lost, "fleet loses", "fleets lose")} over ${wholePercent(MANY_UNUSABLE)} of ${lost === 1 ? "its" : "their"} lives to what is missing in the records.`,
        ]),
    ...(bare === 0 ? [] : [`Of ${count(bare, "fleet")} too little is on record to give a life.`]),
  ];
}
