import type { MeanCountStep } from "./mean-count.ts";

/**
 * Value of a mean cumulative function at an age: the last step at or before it. Between steps the function is level; how far units were
 * watched after the last step it does not know.
 * @param steps - as `meanCumulativeFunction` gives them, by age
 * @param age - 0 or more
 * @returns the step that holds there; null before the first, where the mean number is 0
 * @throws RangeError if the age is no number from 0
 * @see W. Nelson, Recurrent Events Data Analysis, 2003
 * @example meanCountAt(meanCumulativeFunction(histories, { level: 0.95 }), 550)?.estimate;
 */
export function meanCountAt(steps: readonly MeanCountStep[], age: number): MeanCountStep | null {
  if (!(age >= 0)) throw new RangeError(`Cannot look up a mean count: the age must be 0 or more, found ${age}`);
  let [from, to] = [0, steps.length];
  while (from < to) {
    const middle = (from + to) >>> 1;
    if (steps[middle]!.time <= age) from = middle + 1;
    else to = middle;
  }
  return steps[from - 1] ?? null;
}
