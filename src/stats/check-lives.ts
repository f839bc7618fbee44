import type { IntervalLives, Lives } from "./lives.ts";

/**
 * Checks that columns form lives and returns them as intervals: [time, time] when failed, else [time, Infinity).
 * What fails here is a mistake of the program, not of the data.
 * @throws RangeError when columns differ in length, or hold a value that no life can have
 */
export function checkedLives(lives: Lives | IntervalLives): IntervalLives {
  const size = "low" in lives ? lives.low.length : lives.time.length;
  for (const [name, column] of Object.entries(lives)) {
    if (column !== undefined && column.length !== size) {
      throw new RangeError(`Cannot use the lives: ${name} has ${column.length} values, expected ${size}`);
    }
  }
  if (lives.entry) refuseOutside("entry", lives.entry, Number.MAX_VALUE);
  if (lives.count) refuseOutside("count", lives.count, Number.MAX_VALUE);
  if ("low" in lives) {
    refuseOutside("low", lives.low, Number.MAX_VALUE);
    refuseReversed(lives);
    return lives;
  }
  refuseOutside("time", lives.time, Number.MAX_VALUE);
  refuseOutside("failed", lives.failed, 1);
  return asIntervals(lives);
}

function asIntervals({ time, failed, ...others }: Lives): IntervalLives {
  const high = new Float64Array(time.length);
  for (let life = 0; life < time.length; life++)
    high[life] = failed[life] === 1 ? time[life]! : Number.POSITIVE_INFINITY;
  return { low: time, high, ...others };
}

function refuseOutside(name: string, column: Float64Array | Uint8Array, most: number): void {
  for (let life = 0; life < column.length; life++) {
    if (!(column[life]! >= 0 && column[life]! <= most)) {
      throw new RangeError(`Cannot use the lives: ${name} of life ${life} (counted from 0) is ${column[life]}`);
    }
  }
}

function refuseReversed({ low, high }: IntervalLives): void {
  for (let life = 0; life < high.length; life++) {
    if (!(high[life]! >= low[life]!)) {
      const found = `${low[life]} to ${high[life]}`;
      throw new RangeError(`Cannot use the lives: the ends of life ${life} (counted from 0) are ${found}`);
    }
  }
}
