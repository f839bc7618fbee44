/** @throws RangeError where a late entry is not before its life's end, so that the life was never seen */
export function refuseUnseen(time: Float64Array, entry: Float64Array): void {
  for (let life = 0; life < time.length; life++) {
    if (entry[life]! > 0 && !(entry[life]! < time[life]!)) {
      const found = `life ${life} (counted from 0) enters at ${entry[life]} and ends at ${time[life]}`;
      throw new RangeError(`Cannot count lives at risk: ${found}`);
    }
  }
}
