import type { SlotLives } from "./overview-types.ts";

/**
 * Lives at risk just before each age: entry < age <= time. At age 0 those under observation from the start.
 * With late entry the number can rise with age.
 */
export function atRisk({ entry, time }: Pick<SlotLives, "entry" | "time">, ages: number[]): number[] {
  return ages.map((age) => {
    let count = 0;
    for (let life = 0; life < time.length; life++) {
      if ((entry[life]! < age || (age === 0 && entry[life] === 0)) && time[life]! >= age) count++;
    }
    return count;
  });
}
