import type { SlotLives } from "./overview-types.ts";

/** With fewer at risk a further failure moves a curve by a quarter or more. */
export const FEW_AT_RISK = 5;

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

/** The latest age at which at least `number` lives are at risk; 0 where they never are. */
export function lastAgeWith(lives: Pick<SlotLives, "entry" | "time">, number: number): number {
  const ends = Array.from(lives.time).toSorted((a, b) => b - a);
  return ends.slice(number - 1).find((age) => (atRisk(lives, [age])[0] ?? 0) >= number) ?? 0;
}
