/** The same without an upper tail of `negligible` or less, and with zeros for a lower one: the index stays the count. */
export function trimmedCounts(chances: Float64Array, negligible: number): Float64Array {
  let end = chances.length;
  for (let tail = chances[end - 1]!; end > 1 && tail <= negligible; tail += chances[end - 1]!) end--;
  let start = 0;
  for (let tail = chances[0]!; start < end - 1 && tail <= negligible; tail += chances[start]!) start++;
  return chances.slice(0, end).fill(0, 0, start);
}
