import { othersHazard, type Span } from "./others-hazard.ts";
import { type StratumHazard, stratumHazard } from "./stratum-hazard.ts";
import { orderByNumber, runsOf } from "./stretches.ts";

/** Stretches of running between rebuilds, in columns of equal length. Ages are since the last rebuild, in any one unit. */
export type Stretches = {
  /** Of each stretch, the entity that it belongs to: from 0. */
  entity: Int32Array;
  /** Of each stretch, the stratum (as the model) within which ages are compared: from 0; all alike where not given. */
  stratum?: Int32Array;
  /** Age at which the stretch came under observation. At risk when entry < age <= stop; with entry 0 at age 0 too. */
  entry: Float64Array;
  /** Age at its end; not before the entry. */
  stop: Float64Array;
  /** 1: it ended by an event; 0: by anything else. */
  event: Uint8Array;
};

/** Events of each entity, and what the others' hazard lets expect. A value per entity. */
export type ExpectedEvents = {
  /** Events at ages at which others were at risk too. */
  events: Float64Array;
  /** Events to expect at the others' hazard, over the ages at which others were at risk; 0 also where none of them had an event. */
  expected: Float64Array;
  /** Time under observation. */
  exposure: Float64Array;
  /** Events at ages at which no other was at risk: nothing can be expected there, and they are not among `events`. */
  alone: Float64Array;
};

/**
 * Events expected of each entity for the ages that it ran through: the sum over its stretches of the cumulative hazard of age since
 * rebuild, by the left-truncated Nelson-Aalen estimate of all other entities of the stratum. So an old entity is not held to be bad for
 * being old. With d events among Y at risk at an age, of which the entity has e and y, the age adds y (d - e) / (Y - y).
 * @param stretches - of all entities
 * @param entities - how many there are
 * @returns a value per entity
 * @throws RangeError for columns of unequal length, numbers out of range, or a stretch that ends before it begins
 * @see Klein & Moeschberger, Survival Analysis, ch. 4 and 7.2; Andersen, Borgan, Gill & Keiding, Statistical Models Based on Counting
 * Processes, 1993, ch. 4
 * @example
 * expectedEvents(
 *   {
 *     entity: Int32Array.of(0, 0, 1),
 *     entry: Float64Array.of(0, 0, 0),
 *     stop: Float64Array.of(500, 900, 700),
 *     event: Uint8Array.of(1, 0, 1),
 *   },
 *   2,
 * );
 */
export function expectedEvents(stretches: Stretches, entities: number): ExpectedEvents {
  checkStretches(stretches, entities);
  const column = () => new Float64Array(entities);
  const found: ExpectedEvents = { events: column(), expected: column(), exposure: column(), alone: column() };
  for (let row = 0; row < stretches.entity.length; row++) {
    found.exposure[stretches.entity[row]!]! += stretches.stop[row]! - stretches.entry[row]!;
  }
  const byEntity = orderByNumber(stretches.entity, entities, Uint32Array.from(stretches.entity.keys()));
  for (const rows of strataOf(stretches, byEntity)) addStratum(stretches, rows, found);
  for (const [entity, expected] of found.expected.entries()) if (expected < ROUNDING) found.expected[entity] = 0;
  return found;
}

/** One event among a billion at risk is more. */
const ROUNDING = 1e-10;

/** @throws RangeError for columns that are not stretches */
export function checkStretches({ entity, stratum = entity, entry, stop, event }: Stretches, entities: number): void {
  if ([stratum, entry, stop, event].some(({ length }) => length !== entity.length)) {
    throw new RangeError(
      `Cannot read stretches: columns differ in length, found ${entity.length}, ${stratum.length}, ${entry.length}, ${stop.length} and ${event.length}`,
    );
  }
  for (let row = 0; row < entity.length; row++) {
    const known = entity[row]! >= 0 && entity[row]! < entities && stratum[row]! >= 0;
    if (known && entry[row]! >= 0 && stop[row]! >= entry[row]! && stop[row]! < Number.POSITIVE_INFINITY) continue;
    throw new RangeError(
      `Cannot read stretches: stretch ${row} (counted from 0) is of entity ${entity[row]} and stratum ${stratum[row]}, from ${entry[row]} to ${stop[row]}`,
    );
  }
}

function strataOf({ stratum }: Stretches, order: Uint32Array): Iterable<Uint32Array> {
  if (stratum === undefined) return [order];
  const most = stratum.reduce((most, number) => Math.max(most, number), 0);
  return runsOf(stratum, orderByNumber(stratum, most + 1, order));
}

/** Adds what a stratum, its rows in order of entity, has of each entity's events and expectations. */
function addStratum(stretches: Stretches, rows: Uint32Array, found: ExpectedEvents): void {
  const hazard = stratumHazard(stretches, rows);
  const spans: Span[] = [];
  let first = 0;
  for (const own of runsOf(stretches.entity, rows)) {
    const entity = stretches.entity[own[0]!]!;
    const ownSpans = spansOf(hazard, entity, first, first + own.length);
    for (const span of ownSpans) spans.push(span);
    for (let at = first; at < first + own.length; at++) {
      if (stretches.event[rows[at]!] === 1) addEvent(hazard, at, ownSpans, entity, found);
    }
    first += own.length;
  }
  othersHazard(hazard, spans, found.expected);
}

/** Where an entity had how many stretches at risk, by age; rows from `first` to below `end`. */
function spansOf({ from, to }: StratumHazard, entity: number, first: number, end: number): Span[] {
  if (end === first + 1) return [{ entity, own: 1, from: from[first]!, to: to[first]! }];
  const turns: { age: number; by: number }[] = [];
  for (let at = first; at < end; at++) {
    if (to[at]! > from[at]!) turns.push({ age: from[at]!, by: 1 }, { age: to[at]!, by: -1 });
  }
  turns.sort((a, b) => a.age - b.age);
  const spans: Span[] = [];
  let own = 0;
  for (const [at, turn] of turns.entries()) {
    own += turn.by;
    const next = turns[at + 1]?.age ?? turn.age;
    if (own > 0 && next > turn.age) spans.push({ entity, own, from: turn.age, to: next });
  }
  return spans;
}

/** Counts an event of the entity, and takes it out of the hazard that the entity is held against. */
function addEvent(
  { atRisk, from, to }: StratumHazard,
  at: number,
  spans: Span[],
  entity: number,
  found: ExpectedEvents,
): void {
  const age = to[at]! - 1;
  const own = to[at]! > from[at]! ? ownAt(spans, age) : 0;
  const others = (atRisk[age] ?? 0) - own;
  if (own === 0 || others <= 0) {
    found.alone[entity]!++;
    return;
  }
  found.events[entity]!++;
  found.expected[entity]! -= own / others;
}

function ownAt(spans: Span[], age: number): number {
  let [low, high] = [0, spans.length - 1];
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (spans[middle]!.to > age) high = middle;
    else low = middle + 1;
  }
  return spans[low]!.own;
}
