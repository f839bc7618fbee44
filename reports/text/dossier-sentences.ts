import type { Entity, UnitOrPosition } from "../../src/questions/offenders-answer.ts";
import { count, inWords, wholePercent, withLimits } from "../../src/questions/wording.ts";
import { capitalised } from "./capitalised.ts";
import { unbroken } from "./unbroken.ts";

const VERDICTS = {
  offender: "it comes back more often than chance explains",
  watch: "it may come back more often than chance explains: to watch",
  "within chance": "that is within chance",
} as const;

/** What the dossier of one says first: how it was judged, and whether the frame or the place is to blame. */
export function dossierSentences(
  { id, events, expected, shrunkenRatio, probabilityOrdinary, verdict }: Entity,
  apart: UnitOrPosition[],
): string[] {
  const counted = `${id}: ${count(events, "failure")} where ${inWords(expected)} ${expected === 1 ? "was" : "were"} expected`;
  const ratio = shrunkenRatio.estimate === null ? "" : `, ${withLimits(shrunkenRatio, "")} times the ordinary rate`;
  const chance =
    probabilityOrdinary === null
      ? ""
      : ` (chance that it is an ordinary one: ${unbroken(wholePercent(probabilityOrdinary))})`;
  return [`${counted}${ratio}; ${VERDICTS[verdict]}${chance}.`, ...apart.map(({ says }) => `${capitalised(says)}.`)];
}
