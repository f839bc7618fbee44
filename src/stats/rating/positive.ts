/**
 * Checks that quantities of a rating are finite and above 0.
 * @param act - what can't be done otherwise, as in "take a rating life"
 * @throws RangeError that names the first that is not
 */
export function refuseUnlessPositive(act: string, quantities: Record<string, number>): void {
  for (const [name, value] of Object.entries(quantities)) {
    if (!(value > 0 && value < Number.POSITIVE_INFINITY)) {
      throw new RangeError(`Cannot ${act}: ${name} must be above 0 and finite, found ${value}`);
    }
  }
}
