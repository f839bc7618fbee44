/** About `wanted` of so many rows, evenly from the first to the last. */
export function everySo(rows: number, wanted: number): Int32Array {
  const gap = Math.max(1, Math.floor(rows / wanted));
  return Int32Array.from({ length: Math.ceil(rows / gap) }, (_, at) => at * gap);
}
