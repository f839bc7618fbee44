import { asIntervalLives, type IntervalLives, type Lives } from "./lives.ts";

/**
 * Checks that columns form lives and returns them as intervals. What fails here is a mistake of the program, not of the data.
 * @throws RangeError when columns differ in length, or hold a value that no life can have
 */
export function checkedLives(lives: Lives | IntervalLives): IntervalLives {
  const size = "low" in lives ? lives.low.length : lives.time.length;
  for (const [name, column] of Object.entries(lives)) {
    if (column !== undefined && column.length !== size) {
      throw new RangeError(`Cannot use the lives: ${name} has ${column.length} values, expected ${size}`);
    }
  }
  if (!("low" in lives)) refuseWhere("failed", lives.failed, (value) => value > 1);
  const intervals = asIntervalLives(lives);
  refuseWhere("the age at the end", intervals.low, (value) => !(value >= 0 && value < Number.POSITIVE_INFINITY));
  refuseWhere("high", intervals.high, (value, life) => !(value >= intervals.low[life]!));
  if (intervals.entry)
    refuseWhere("entry", intervals.entry, (value) => !(value >= 0 && value < Number.POSITIVE_INFINITY));
  if (intervals.count)
    refuseWhere("count", intervals.count, (value) => !(value >= 0 && value < Number.POSITIVE_INFINITY));
  return intervals;
}

function refuseWhere(
  name: string,
  column: Float64Array | Uint8Array,
  isWrong: (value: number, life: number) => boolean,
): void {
  for (let life = 0; life < column.length; life++) {
    if (isWrong(column[life]!, life)) {
      throw new RangeError(`Cannot use the lives: ${name} of life ${life} (counted from 0) is ${column[life]}`);
    }
  }
}
