import { checkWeibullLife, type Survival, type WeibullLife } from "./survival.ts";

/**
 * Survival of a unit that opens at the first failure of any of its slots: the product of theirs, each given that it has reached its age.
 * With all ages 0 it is the law of every later life of a unit whose slots all restart; of one slot it is that slot's own.
 * @param slots - law and age of each slot; a unit with none never opens
 * @returns the chance that the unit has not opened after a time, which must be 0 or more
 * @throws RangeError for what is no law, or no age
 * @see R. E. Barlow & F. Proschan, Statistical Theory of Reliability and Life Testing, ch. 2 (series systems)
 * @example firstSurvival([{ shape: 1.5, scale: 30_000, age: 12_000 }])(4000); // 0.872398
 */
export function firstSurvival(slots: readonly WeibullLife[]): Survival {
  for (const slot of slots) checkWeibullLife(slot);
  const failing = slots.filter(({ scale }) => scale < Number.POSITIVE_INFINITY);
  const shapes = Float64Array.from(failing, ({ shape }) => shape);
  const ages = Float64Array.from(failing, ({ age = 0, scale }) => age / scale);
  const rates = Float64Array.from(failing, ({ scale }) => 1 / scale);
  const begun = ages.map((age, slot) => age ** shapes[slot]!);
  return (time) => {
    let hazard = 0;
    for (let slot = 0; slot < shapes.length; slot++) {
      hazard += (ages[slot]! + time * rates[slot]!) ** shapes[slot]! - begun[slot]!;
    }
    return Math.exp(-hazard);
  };
}
