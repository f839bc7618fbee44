/** @throws RangeError if a value lies outside 0 to 1 */
export function checkPValues(pValues: Float64Array): void {
  for (const p of pValues) {
    if (!(p >= 0 && p <= 1)) throw new RangeError(`Cannot adjust p-values: they must lie in 0 to 1, found ${p}`);
  }
}
