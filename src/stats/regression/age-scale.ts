import type { Lives } from "../lives.ts";
import { riskColumns } from "../survival/risk-table.ts";

/** What of age an effect is taken to change with: the share failed before it by Kaplan and Meier, age itself, or its rank among the ends of lives. */
export type AgeScale = "km" | "identity" | "rank";

/** The scale's value at each age at which lives end, of all lives together. */
export function agesOnScale(lives: Lives, scale: AgeScale): (age: number) => number {
  if (scale === "identity") return (age) => age;
  const { time, atRisk, failed, censored } = riskColumns(lives);
  const values = new Map<number, number>();
  let [survival, ended] = [1, 0];
  for (let row = 0; row < time.length; row++) {
    const ends = failed[row]! + censored[row]!;
    values.set(time[row]!, scale === "km" ? 1 - survival : ended + (ends + 1) / 2);
    if (failed[row]! > 0) survival *= 1 - failed[row]! / atRisk[row]!;
    ended += ends;
  }
  return (age) => values.get(age)!;
}
