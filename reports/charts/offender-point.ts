import type { Entity } from "../../src/questions/offenders-answer.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import { COLOURS } from "../theme/colours.ts";

/** How each verdict is drawn: by shape and fill as well as by colour. */
export const VERDICTS = {
  offender: { shape: "triangle-up", stroke: COLOURS.accent, fill: COLOURS.accent, size: 75 },
  watch: { shape: "diamond", stroke: COLOURS.accent, fill: COLOURS.paper, size: 75 },
  "within chance": { shape: "circle", stroke: COLOURS.soft, fill: COLOURS.paper, size: 30 },
} as const;

/** What the pointer is told of a frame or position. */
export const OFFENDER_TOOLTIP = [
  { field: "id", title: "Name" },
  { field: "events", title: "Failures", format: "," },
  { field: "expectedWords", title: "Expected" },
  { field: "shrunkenWords", title: "Times ordinary" },
  { field: "verdict", title: "Verdict" },
];

export type OffenderPoint = {
  id: string;
  events: number;
  expected: number;
  /** Events over expected. */
  ratio: number;
  verdict: Entity["verdict"];
  expectedWords: string;
  shrunkenWords: string;
};

/** What charts draw of one; null where nothing was to be expected of it, so that it has no ratio. */
export function offenderPoint({ id, events, expected, verdict, shrunkenRatio }: Entity): OffenderPoint | null {
  if (!(expected > 0)) return null;
  return {
    id,
    events,
    expected,
    ratio: events / expected,
    verdict,
    expectedWords: inWords(expected),
    shrunkenWords: withLimits(shrunkenRatio, ""),
  };
}
