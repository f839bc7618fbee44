/** A sum of coefficients, each times its weight: its estimate, error and limits, and the two-sided p-value that it is 0. */
export type Contrast = {
  estimate: number;
  error: number;
  low: number;
  high: number;
  p: number;
};

/** @throws RangeError for more weights than numbers, or a weight that is no number */
export function checkedWeights(weights: readonly number[], numbers: number): readonly number[] {
  if (weights.length <= numbers && weights.every(Number.isFinite)) return weights;
  throw new RangeError(`Cannot take a contrast: found weights ${weights.join(", ")} for ${numbers} numbers`);
}

export function contrastOf(numbers: ArrayLike<number>, weights: readonly number[]): number {
  let sum = 0;
  for (let one = 0; one < weights.length; one++) sum += weights[one]! * numbers[one]!;
  return sum;
}
