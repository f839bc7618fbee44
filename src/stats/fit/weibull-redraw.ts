import type { Stream } from "../random/stream.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { ColumnRoom } from "./column-room.ts";
import type { Point } from "./constraint.ts";
import { drawnEnd, MOST } from "./redraw.ts";
import { DRAWN_END, type RedrawPlan, WITHOUT_END } from "./redraw-plan.ts";

/**
 * Draws sets of Weibull lives as the lives of a plan were watched, in the columns that the Weibull kernels take: the same numbers as
 * `redrawer` draws, without the steps between. For plans in which failures show at once and nothing stops the watching of all.
 * @param typicalLog - about which ages are taken
 */
export function weibullRedrawer(plan: RedrawPlan, at: Point, typicalLog: number): (stream: Stream) => GatheredLives {
  const shape = Math.exp(at.e);
  const middle = at.a - typicalLog;
  const failedBy = (age: number) => -Math.expm1(-Math.exp(shape * (Math.log(age) - at.a)));
  const place = (age: number) => Math.log(age) - typicalLog;
  const { ends, end: ending } = plan;
  const last = ends.length;
  const byEnd = Float64Array.from([...ends.map(failedBy), Number.POSITIVE_INFINITY]);
  const byEntry = plan.entry.map(failedBy);
  const least = plan.entry.map(place);
  const late = plan.entry.filter((age) => age > 0);
  const others = Float64Array.from([...ends.map(place), ...late.map(place)]);
  const fraction = new Float64Array(plan.end.length + 1);
  const life = new Int32Array(plan.end.length + 1);
  const removals = new Float64Array(last + 1);
  const room = new ColumnRoom();
  return (stream) => {
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
    const z = room.take(failed + others.length);
    for (let one = 0; one < failed; one++) {
      const drawn = middle + Math.log(-Math.log1p(-Math.min(fraction[one]!, MOST))) / shape;
      z[one] = Math.max(drawn, least[life[one]!]!);
    }
    z.set(others, failed);
    const weight = room.take(z.length).fill(1, 0, failed);
    for (let end = 0; end < last; end++) weight[failed + end] = removals[end]!;
    weight.fill(-1, failed + last);
    const exactSum = sumOf(z, failed);
    return {
      typicalLog,
      spread: spreadOf(z, failed, exactSum),
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
  };
}

const NONE = new Float64Array(0);

/** Of the first columns of z, which are the failures. */
function sumOf(z: Float64Array, failed: number): number {
  let sum = 0;
  for (let life = 0; life < failed; life++) sum += z[life]!;
  return sum;
}

function spreadOf(z: Float64Array, failed: number, sum: number): number {
  const mean = sum / failed;
  let squares = 0;
  for (let life = 0; life < failed; life++) squares += (z[life]! - mean) ** 2;
  return Math.sqrt(squares / failed);
}
