import type { Stream } from "../random/stream.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { type HazardSeries, hazardSeries } from "../weibull/hazard-series.ts";
import { ColumnRoom } from "./column-room.ts";
import type { Point } from "./constraint.ts";
import { drawnEnd, MOST } from "./redraw.ts";
import { DRAWN_END, type RedrawPlan, WITHOUT_END } from "./redraw-plan.ts";

/** A set of lives, and the series of its hazard sums about the point that it was drawn from, which drawing gives nearly for nothing. */
export type DrawnLives = { lives: GatheredLives; series: HazardSeries };

/**
 * Draws sets of Weibull lives as the lives of a plan were watched, in the columns that the Weibull kernels take: the same numbers as
 * `redrawer` draws, without the steps between. For plans in which failures show at once and nothing stops the watching of all.
 * @param typicalLog - about which ages are taken
 */
export function weibullRedrawer(plan: RedrawPlan, at: Point, typicalLog: number): (stream: Stream) => DrawnLives {
  const shape = Math.exp(at.e);
  const middle = at.a - typicalLog;
  const drawnFrom = { level: -shape * middle, shape };
  const place = (age: number) => Math.log(age) - typicalLog;
  const { fraction, life, removals, draw } = fates(plan, (age) => shape * (Math.log(age) - at.a));
  const least = plan.entry.map(place);
  const late = plan.entry.filter((age) => age > 0);
  const others = Float64Array.from([...plan.ends.map(place), ...late.map(place)]);
  const otherHazards = others.map((z) => Math.exp(shape * (z - middle)));
  const hazard = new Float64Array(plan.end.length + others.length);
  const room = new ColumnRoom();
  return (stream) => {
    const failed = draw(stream);
    const z = room.take(failed + others.length);
    const weight = room.take(z.length).fill(1, 0, failed);
    for (let one = 0; one < failed; one++) {
      hazard[one] = -Math.log1p(-Math.min(fraction[one]!, MOST));
      z[one] = Math.max(middle + Math.log(hazard[one]!) / shape, least[life[one]!]!);
    }
    z.set(others, failed);
    for (let other = 0; other < others.length; other++) {
      const times = other < plan.ends.length ? removals[other]! : -1;
      weight[failed + other] = times;
      hazard[failed + other] = times * otherHazards[other]!;
    }
    const lives = columnsOf(z, weight, failed, typicalLog);
    return { lives, series: hazardSeries(lives, drawnFrom, hazard) };
  };
}

/** Draws which lives fail, at which fraction failed by then, and how many are removed at each of the plan's ends. */
function fates(plan: RedrawPlan, logHazard: (age: number) => number) {
  const { ends, end: ending } = plan;
  const last = ends.length;
  const failedBy = (age: number) => -Math.expm1(-Math.exp(logHazard(age)));
  const byEnd = Float64Array.from([...ends.map(failedBy), Number.POSITIVE_INFINITY]);
  const byEntry = plan.entry.map(failedBy);
  const fraction = new Float64Array(ending.length + 1);
  const life = new Int32Array(ending.length + 1);
  const removals = new Float64Array(last + 1);
  const draw = (stream: Stream): number => {
    removals.fill(0);
    let failed = 0;
    for (let one = 0; one < ending.length; one++) {
      const drawn = ending[one] === DRAWN_END ? drawnEnd(plan, one, stream) : ending[one]!;
      const end = drawn === WITHOUT_END ? last : drawn;
      const before = byEntry[one]!;
      fraction[failed] = before + (1 - stream.uniform()) * (1 - before);
      life[failed] = one;
      // Counted, not branched upon: which it will be no processor can foresee.
      const removed = Number(fraction[failed]! > byEnd[end]!) | 0;
      removals[end]! += removed;
      failed += 1 - removed;
    }
    return failed;
  };
  return { fraction, life, removals, draw };
}

const NONE = new Float64Array(0);

/** Of terms of which the first `failed` are failures. */
function columnsOf(z: Float64Array, weight: Float64Array, failed: number, typicalLog: number): GatheredLives {
  let exactSum = 0;
  for (let life = 0; life < failed; life++) exactSum += z[life]!;
  const mean = exactSum / failed;
  let squares = 0;
  for (let life = 0; life < failed; life++) squares += (z[life]! - mean) ** 2;
  return {
    typicalLog,
    spread: Math.sqrt(squares / failed),
    failures: failed,
    exact: failed,
    exactSum,
    z,
    weight,
    lowZ: NONE,
    highZ: NONE,
    width: NONE,
    intervalCount: NONE,
  };
}
