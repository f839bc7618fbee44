import type { IntervalLives } from "../lives.ts";
import { countsOf, type PlainLives, rowsOf } from "./plain-lives.ts";
import { everySo } from "./strided-rows.ts";

const SAMPLE = 1000;

/** Mean log of the ages at which some thousand rows end: about which log ages are of order 1. */
export function typicalLogOf(lives: PlainLives | IntervalLives): number {
  const count = countsOf(lives);
  let [sum, rows] = [0, 0];
  for (const row of everySo(rowsOf(lives), SAMPLE)) {
    const age = endOf(lives, row);
    if (age === 0 || count?.[row] === 0) continue;
    sum += Math.log(age);
    rows++;
  }
  return rows > 0 ? sum / rows : 0;
}

function endOf(lives: PlainLives | IntervalLives, row: number): number {
  if ("time" in lives) return lives.time[row]!;
  return lives.high[row] === Number.POSITIVE_INFINITY ? lives.low[row]! : lives.high[row]!;
}
