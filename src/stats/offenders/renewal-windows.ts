import type { Stretches } from "./expected-events.ts";
import { orderByNumber } from "./stretches.ts";

/** A time of one clock under observation: events in it start the clock anew. */
export type Window = { entity: number; stratum: number; age: number; length: number };

/**
 * Stretches of each entity put together: one that ended by an event and is followed by one of the same stratum that was watched from its
 * start on is the same window; anything else starts another.
 * @returns windows by entity, and each entity's events
 */
export function renewalWindows(stretches: Stretches, entities: number): { windows: Window[]; events: Float64Array } {
  const { entity, entry, stop, event } = stretches;
  const events = new Float64Array(entities);
  const windows: Window[] = [];
  let open = null as Window | null;
  for (const row of orderByNumber(entity, entities, Uint32Array.from(entity.keys()))) {
    const stratum = stretches.stratum?.[row] ?? 0;
    const length = stop[row]! - entry[row]!;
    events[entity[row]!]! += event[row]!;
    if (open !== null && open.entity === entity[row] && open.stratum === stratum && entry[row] === 0)
      open.length += length;
    else {
      open = { entity: entity[row]!, stratum, age: entry[row]!, length };
      windows.push(open);
    }
    if (event[row] !== 1) open = null;
  }
  return { windows, events };
}
