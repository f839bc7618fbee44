/** Events of entities (units, positions, models, ...) and what they are to be held against, in columns of equal length. */
export type Counts = {
  /** Whole numbers, 0 or more. */
  events: Float64Array;
  /** Time watched, in any one unit, or events expected: 0 or more. An entity with 0 tells nothing, and its events are not looked at. */
  exposure: Float64Array;
};

/** @throws RangeError for columns of unequal length, events that are no counts or exposures that are no lengths */
export function checkCounts({ events, exposure }: Counts): void {
  if (events.length !== exposure.length) {
    throw new RangeError(`Cannot compare counts: found ${events.length} counts and ${exposure.length} exposures`);
  }
  for (let entity = 0; entity < events.length; entity++) {
    const [found, watched] = [events[entity]!, exposure[entity]!];
    if (Number.isInteger(found) && found >= 0 && watched >= 0 && watched < Number.POSITIVE_INFINITY) continue;
    throw new RangeError(
      `Cannot compare counts: entity ${entity} (counted from 0) has ${found} events in an exposure of ${watched}`,
    );
  }
}

/** Those that have been watched at all. */
export function watchedCounts({ events, exposure }: Counts): Counts {
  const watched = (_: number, entity: number) => exposure[entity]! > 0;
  return { events: events.filter(watched), exposure: exposure.filter(watched) };
}

/** Sum of a column, in its order. */
export function sumOf(column: Float64Array): number {
  let sum = 0;
  for (let row = 0; row < column.length; row++) sum += column[row]!;
  return sum;
}
