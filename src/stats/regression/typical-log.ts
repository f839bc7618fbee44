import type { IntervalLives } from "../lives.ts";
import { everySo } from "./strided-rows.ts";

const SAMPLE = 1000;

/** Mean log of the ages at which some thousand rows end: about which log ages are of order 1. */
export function typicalLogOf({ low, high, count }: IntervalLives): number {
  let [sum, rows] = [0, 0];
  for (const row of everySo(low.length, SAMPLE)) {
    const age = high[row] === Number.POSITIVE_INFINITY ? low[row]! : high[row]!;
    if (age === 0 || count?.[row] === 0) continue;
    sum += Math.log(age);
    rows++;
  }
  return rows > 0 ? sum / rows : 0;
}
