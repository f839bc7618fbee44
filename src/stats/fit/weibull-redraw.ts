import type { Stream } from "../random/stream.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import type { Point } from "./constraint.ts";
import { endOf, MOST } from "./redraw.ts";
import { type RedrawPlan, WITHOUT_END } from "./redraw-plan.ts";

/**
 * Draws sets of Weibull lives as the lives of a plan were watched, in the columns that the Weibull kernels take: the same numbers as
 * `redrawer` draws, without the steps between. For plans in which failures show at once and nothing stops the watching of all.
 * @param typicalLog - about which ages are taken
 */
export function weibullRedrawer(plan: RedrawPlan, at: Point, typicalLog: number): (stream: Stream) => GatheredLives {
  const shape = Math.exp(at.e);
  const middle = at.a - typicalLog;
  const failedBy = (age: number) => -Math.expm1(-Math.exp(shape * (Math.log(age) - at.a)));
  const byEnd = plan.ends.map(failedBy);
  const byEntry = plan.entry.map(failedBy);
  const ends = plan.ends.map((age) => Math.log(age) - typicalLog);
  const entries = plan.entry.filter((age) => age > 0).map((age) => Math.log(age) - typicalLog);
  const least = plan.entry.map((age) => Math.log(age) - typicalLog);
  const drawn = new Float64Array(plan.end.length);
  const removals = new Float64Array(ends.length);
  return (stream) => {
    removals.fill(0);
    let failed = 0;
    let removed = 0;
    for (let life = 0; life < plan.end.length; life++) {
      const end = endOf(plan, life, stream);
      const before = byEntry[life]!;
      const fraction = before + (1 - stream.uniform()) * (1 - before);
      if (end !== WITHOUT_END && fraction > byEnd[end]!) {
        if (removals[end]!++ === 0) removed++;
      } else {
        const z = middle + Math.log(-Math.log1p(-Math.min(fraction, MOST))) / shape;
        drawn[failed++] = Math.max(z, least[life]!);
      }
    }
    return columnsOf(drawn.subarray(0, failed), { ends, removals, removed }, entries, typicalLog);
  };
}

type Removed = { ends: Float64Array; removals: Float64Array; removed: number };

const NONE = new Float64Array(0);

function columnsOf(
  failures: Float64Array,
  { ends, removals, removed }: Removed,
  entries: Float64Array,
  typicalLog: number,
): GatheredLives {
  const failed = failures.length;
  const z = new Float64Array(failed + removed + entries.length);
  const weight = new Float64Array(z.length).fill(1, 0, failed);
  z.set(failures);
  let term = failed;
  for (let end = 0; end < ends.length; end++) {
    if (removals[end] === 0) continue;
    z[term] = ends[end]!;
    weight[term++] = removals[end]!;
  }
  z.set(entries, term);
  weight.fill(-1, term);
  let sum = 0;
  for (let life = 0; life < failed; life++) sum += failures[life]!;
  const mean = sum / failed;
  let squares = 0;
  for (let life = 0; life < failed; life++) squares += (failures[life]! - mean) ** 2;
  return {
    typicalLog,
    spread: Math.sqrt(squares / failed),
    failures: failed,
    exact: failed,
    exactSum: sum,
    z,
    weight,
    lowZ: NONE,
    highZ: NONE,
    width: NONE,
    intervalCount: NONE,
  };
}
