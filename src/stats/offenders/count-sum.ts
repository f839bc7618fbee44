/** Chances of a count: of k or more, k from 0, and of k itself. */
export type CountChances = { upper: Float64Array; exactly: Float64Array };

/** A count that is 0 for sure, reckoned up to `events` and one more. */
export function noWindow(events: number): CountChances {
  const column = () => Float64Array.from({ length: events + 2 }, (_, k) => (k === 0 ? 1 : 0));
  return { upper: column(), exactly: column() };
}

/** The sum of a count and another, independent one, whose upper chances are given for as many k: sums of chances alone, none subtracted. */
export function addWindow({ upper, exactly }: CountChances, other: Float64Array): CountChances {
  const size = upper.length;
  const otherExactly = other.map((chance, k) => Math.max(0, chance - (other[k + 1] ?? 0)));
  const sum = { upper: upper.slice(), exactly: new Float64Array(size) };
  for (let k = 0; k < size; k++) {
    for (let own = 0; own < k; own++) sum.upper[k]! += exactly[own]! * other[k - own]!;
    for (let own = 0; own <= k && k < size - 1; own++) sum.exactly[k]! += exactly[own]! * otherExactly[k - own]!;
  }
  return sum;
}
