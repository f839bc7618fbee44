import type { Cells } from "../../../../src/stats/offenders/cells.ts";
import { streamOf } from "../../../../src/stats/random/stream.ts";
import { gapOf } from "../drawn-stretches.ts";

/** Units that run at the positions in turn: positions, units, periods, and events expected of a position in a period. */
export type Rotation = { positions: number; units: number; periods: number; mean: number };

/** Counts of a fleet whose units rotate, position 0 having 4 times the rate; drawn again until that one meets what the question asks for. */
export function rotatingFleet(seed: number, number: number, rotation: Rotation): { cells: Cells; frames: number[] } {
  const random = streamOf(seed, number);
  for (;;) {
    const cells = drawn(random, rotation);
    const rows = [...cells.unit.keys()].filter((row) => cells.position[row] === 0);
    const expected = rows.map((row) => cells.expected[row]!);
    const whole = expected.reduce((sum, one) => sum + one, 0);
    if (rows.length >= 3 && whole >= 20 && Math.max(...expected) <= whole / 2) {
      return { cells, frames: rows.map((row) => cells.unit[row]!) };
    }
  }
}

function drawn(random: ReturnType<typeof streamOf>, { positions, units, periods, mean }: Rotation): Cells {
  const rows = new Map<number, { unit: number; position: number; events: number; expected: number }>();
  const order = Array.from({ length: units }, (_, unit) => unit);
  for (let period = 0; period < periods; period++) {
    for (let at = 0; at < positions; at++) {
      const other = at + random.below(units - at);
      [order[at], order[other]] = [order[other]!, order[at]!];
      const expected = mean * (0.4 + 1.2 * random.uniform());
      const key = order[at]! * positions + at;
      const row = rows.get(key) ?? { unit: order[at]!, position: at, events: 0, expected: 0 };
      row.expected += expected;
      const rate = expected * (at === 0 ? 4 : 1);
      for (let gone = gapOf(random, 1); gone < rate; gone += gapOf(random, 1)) row.events++;
      rows.set(key, row);
    }
  }
  const all = [...rows.values()];
  return {
    unit: Int32Array.from(all, ({ unit }) => unit),
    position: Int32Array.from(all, ({ position }) => position),
    events: Float64Array.from(all, ({ events }) => events),
    expected: Float64Array.from(all, ({ expected }) => expected),
    units,
    positions,
  };
}
