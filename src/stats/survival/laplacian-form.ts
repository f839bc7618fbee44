/**
 * x' V^- x, where V has off-diagonals -shared and rows that sum to 0, as the covariance of a log-rank test has; x sums to 0 within
 * each set of connected groups. Groups are taken out one by one, what each shared passing to those that shared it: no number is
 * ever subtracted, so that nearly unconnected groups cost no precision and unconnected ones are told exactly.
 * @param shared - symmetric, 0 or more, 0 on the diagonal
 * @returns the form, and the rank of V
 */
export function quadraticForm(shared: Float64Array[], x: Float64Array): { value: number; degrees: number } {
  const left = shared.map((row) => row.slice());
  const rest = x.slice();
  let value = 0;
  let degrees = 0;
  for (let out = 0; out < rest.length; out++) {
    const total = left[out]!.subarray(out + 1).reduce((sum, common) => sum + common, 0);
    if (total === 0) continue;
    degrees++;
    value += rest[out]! ** 2 / total;
    takeOut(left, rest, out, total);
  }
  return { value, degrees };
}

function takeOut(left: Float64Array[], rest: Float64Array, out: number, total: number): void {
  const row = left[out]!;
  for (let other = out + 1; other < row.length; other++) {
    const share = row[other]! / total;
    if (share === 0) continue;
    rest[other]! += share * rest[out]!;
    const target = left[other]!;
    for (let third = out + 1; third < row.length; third++) target[third]! += share * row[third]!;
    target[other] = 0;
  }
}
