import type { Cells } from "../stats/offenders/cells.ts";
import { expectedEvents, type Stretches } from "../stats/offenders/expected-events.ts";
import type { Basis, By } from "./answer.ts";
import type { FleetExposure } from "./fleet-exposure.ts";
import { type FrameReturns, frameReturns } from "./frame-returns.ts";

/** The entities of one fleet with what happened to each and what was to be expected. */
export type CountedFleet = {
  by: By;
  basis: Basis;
  ids: string[];
  events: Float64Array;
  planned: Float64Array;
  /** Service under observation. */
  exposure: Float64Array;
  /** Failures to be expected at the ages that each ran through, by all others. */
  expected: Float64Array;
  /** Failures at ages where no other was at risk: nothing can be expected there. */
  alone: number;
  /** Service by age, where it is known that finely. */
  stretches: Stretches | null;
  /** Service by unit and position, with their names; null where positions are not on record. */
  crossed: Crossed | null;
};

export type Crossed = {
  cells: Cells;
  units: string[];
  places: string[];
  /** Of each place, what became of the frames that ran there; null where ages are not known. */
  returns: FrameReturns[] | null;
};

/** Counts what happened to each entity of a fleet, and what was to be expected of it. */
export function countedFleet(fleet: FleetExposure): CountedFleet {
  const { by, basis, ids, stretches, planned } = fleet;
  const { events, expected, exposure, alone } = expectedEvents(stretches, ids.length);
  return {
    by,
    basis,
    ids,
    events,
    planned,
    exposure,
    expected,
    alone: alone.reduce((sum, own) => sum + own, 0),
    stretches,
    crossed: crossedOf(fleet),
  };
}

/** Service by unit and position: a cell each, with what the fleet would make expect there, the unit left out. */
function crossedOf(fleet: FleetExposure): Crossed | null {
  const { stretches, unit, units, place, places } = fleet;
  if (places.length < 2 || units.length < 2) return null;
  const cellOf = new Map<number, number>();
  const cell = new Int32Array(unit.length);
  const [ofUnit, ofPlace]: [number[], number[]] = [[], []];
  for (let row = 0; row < unit.length; row++) {
    if (place[row]! < 0) return null;
    const key = unit[row]! * places.length + place[row]!;
    const known = cellOf.get(key) ?? cellOf.size;
    if (known === cellOf.size) {
      cellOf.set(key, known);
      ofUnit.push(unit[row]!);
      ofPlace.push(place[row]!);
    }
    cell[row] = known;
  }
  const { events, expected } = expectedEvents({ ...stretches, entity: cell }, cellOf.size);
  return {
    cells: {
      unit: Int32Array.from(ofUnit),
      position: Int32Array.from(ofPlace),
      events,
      expected,
      units: units.length,
      positions: places.length,
    },
    units,
    places,
    returns: frameReturns(fleet),
  };
}
