import type { EffectsAt } from "../stats/offenders/crossed-effects-at.ts";
import { type UnitOrPosition as Told, unitOrPosition } from "../stats/offenders/unit-or-position.ts";
import type { Crossed } from "./counted-fleet.ts";
import type { Estimate } from "./estimate.ts";
import type { FrameReturns } from "./frame-returns.ts";
import type { UnitOrPosition } from "./offenders-answer.ts";
import { count, inWords } from "./wording.ts";

export type Asked = {
  crossed: Crossed;
  cell: number;
  effects: EffectsAt;
  fleet: string | null;
  /** What ages are counted in, with the blank before it. */
  unit: string;
};

/** Whether it is the frame or the place that brings a frame back from where most happened to it. */
export function unitOrPositionOf({ crossed, cell, effects, fleet, unit }: Asked): UnitOrPosition {
  const { cells, units, places } = crossed;
  const returns = crossed.returns?.[cells.position[cell]!] ?? null;
  const told = unitOrPosition(effects.cells, effects.effects, effects.cell);
  const [frame, place] = [units[cells.unit[cell]!]!, places[cells.position[cell]!]!];
  return {
    fleet,
    unit: frame,
    position: place,
    events: cells.events[cell]!,
    expected: cells.expected[cell]!,
    frame: ratio(told.frame),
    place: ratio(told.place),
    correlation: told.correlation,
    moves: told.moves,
    verdict: told.verdict,
    says: inPlainWords(told, { frame, place, returns, unit }),
  };
}

function ratio({ ratio: estimate, low, high }: { ratio: number; low: number; high: number }): Estimate {
  return { estimate, low, high };
}

type Names = { frame: string; place: string; returns: FrameReturns | null; unit: string };

function inPlainWords({ verdict, moves }: Told, { frame, place, returns, unit }: Names): string {
  switch (verdict) {
    case "place":
      return `the place, not the frame${returns === null ? "" : `: ${returnsInWords(place, returns, unit)}`}`;
    case "frame":
      return `the frame, not the place: ${frame} comes back from wherever it runs, and other frames ran at ${place} without`;
    case "both":
      return `both the frame and the place: ${frame} comes back from elsewhere too, and other frames come back from ${place}`;
    case "neither":
      return `neither for certain: what ${frame} and ${place} have in common is within what chance makes of each`;
    case "untold":
      return `frame and place can't be told apart: ${count(moves, "move")} between positions ${moves === 1 ? "links" : "link"} ${frame} and ${place} to others`;
  }
}

/** "3 different frames ran at Station 14, all came back within 1,100 h". */
function returnsInWords(place: string, { frames, back, longest }: FrameReturns, unit: string): string {
  const ran = `${count(frames, "different frame")} ran at ${place}`;
  if (back === frames && longest !== null) return `${ran}, all came back within ${inWords(longest)}${unit}`;
  return `${ran}, ${back} of them came back for failure`;
}
