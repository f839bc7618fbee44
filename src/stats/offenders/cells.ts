/** Events of each unit at each position where it ran, in columns of equal length: a row for each pair. */
export type Cells = {
  /** From 0. */
  unit: Int32Array;
  /** From 0. */
  position: Int32Array;
  /** Whole numbers, 0 or more. */
  events: Float64Array;
  /** Events expected there, 0 or more; a row with none tells nothing and is left out. */
  expected: Float64Array;
  /** How many units there are, whether they ran or not. */
  units: number;
  /** How many positions there are. */
  positions: number;
};

/** @throws RangeError for columns of unequal length, numbers out of range, or events or expectations that are none */
export function checkCells({ unit, position, events, expected, units, positions }: Cells): void {
  if ([position, events, expected].some(({ length }) => length !== unit.length)) {
    throw new RangeError(
      `Cannot tell units from positions: columns differ in length, found ${unit.length}, ${position.length}, ${events.length} and ${expected.length}`,
    );
  }
  for (let cell = 0; cell < unit.length; cell++) {
    const known = unit[cell]! >= 0 && unit[cell]! < units && position[cell]! >= 0 && position[cell]! < positions;
    const counted = Number.isInteger(events[cell]) && events[cell]! >= 0;
    if (known && counted && expected[cell]! >= 0 && expected[cell]! < Number.POSITIVE_INFINITY) continue;
    throw new RangeError(
      `Cannot tell units from positions: row ${cell} (counted from 0) has unit ${unit[cell]}, position ${position[cell]}, ${events[cell]} events and ${expected[cell]} expected`,
    );
  }
}

/** Numbers of the rows in which something was expected. */
export function tellingCells({ expected }: Cells): Uint32Array {
  return Uint32Array.from(expected.keys()).filter((cell) => expected[cell]! > 0);
}
