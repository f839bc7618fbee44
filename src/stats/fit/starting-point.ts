import type { Family } from "../distribution/family.ts";
import type { Point } from "./constraint.ts";
import type { Surface } from "./surface.ts";

/** Shape from the spread of the log ages at failure, scale by Newton steps at that shape. */
export function startingPoint({ family, typicalLog, at, spread }: Surface): Point {
  const e = family.fitsShape ? shapeFrom(family, spread) : 0;
  let a = typicalLog - family.start.mean / Math.exp(e);
  for (let step = 0; step < SCALE_STEPS; step++) {
    const slopes = at(a, e);
    const newton = slopes.aa < 0 ? -slopes.a / slopes.aa : Math.sign(slopes.a) * 2;
    const next = a + Math.max(-2, Math.min(2, newton));
    if (!Number.isFinite(next)) break;
    a = next;
  }
  return { a, e };
}

const SCALE_STEPS = 4;

function shapeFrom({ start }: Family, spread: number): number {
  return spread > 0 ? Math.min(Math.max(Math.log(start.deviation / spread), -2.3), 9.2) : 0;
}
