/** Chance that a life is longer than an age: 1 at 0, never rising. */
export type Survival = (age: number) => number;

/** A Weibull life, of a slot that has run for an age already. */
export type WeibullLife = {
  /** Above 0, no unit. */
  shape: number;
  /** Above 0; Infinity for what never fails by itself. */
  scale: number;
  /** Age now, in the unit of `scale`: 0 or more, 0 where not given. */
  age?: number;
};

/** @throws RangeError for what is no law, or no age */
export function checkWeibullLife({ shape, scale, age = 0 }: WeibullLife): void {
  if (!(shape > 0 && shape < Number.POSITIVE_INFINITY && scale > 0)) {
    throw new RangeError(`Cannot use a life: shape ${shape}, scale ${scale}`);
  }
  if (!(age >= 0 && age < Number.POSITIVE_INFINITY)) throw new RangeError(`Cannot use a life: its age is ${age}`);
}
