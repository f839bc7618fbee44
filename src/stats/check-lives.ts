import type { IntervalLives, Lives } from "./lives.ts";

/**
 * Checks that columns form lives and returns them as intervals: [time, time] when failed, else [time, Infinity).
 * What fails here is a mistake of the program, not of the data.
 * @throws RangeError when columns differ in length, or hold a value that no life can have
 */
export function checkedLives(lives: Lives | IntervalLives): IntervalLives {
  if ("time" in lives) {
    checkLives(lives);
    return asIntervals(lives);
  }
  checkColumns(lives, lives.low.length);
  refuseOutside("low", lives.low, Number.MAX_VALUE);
  refuseReversed(lives);
  return lives;
}

/**
 * Checks that columns form lives that are exact or right-censored.
 * @throws RangeError when columns differ in length, or hold a value that no life can have
 */
export function checkLives(lives: Lives): void {
  checkColumns(lives, lives.time.length);
  refuseOutside("time", lives.time, Number.MAX_VALUE);
  refuseNoFlag(lives.failed);
}

function checkColumns(lives: Lives | IntervalLives, size: number): void {
  for (const [name, column] of Object.entries(lives)) {
    if (column !== undefined && column.length !== size) {
      throw new RangeError(`Cannot use the lives: ${name} has ${column.length} values, expected ${size}`);
    }
  }
  if (lives.entry) refuseOutside("entry", lives.entry, Number.MAX_VALUE);
  if (lives.count) refuseOutside("count", lives.count, Number.MAX_VALUE);
}

function asIntervals({ time, failed, ...others }: Lives): IntervalLives {
  const high = new Float64Array(time.length);
  for (let life = 0; life < time.length; life++)
    high[life] = failed[life] === 1 ? time[life]! : Number.POSITIVE_INFINITY;
  return { low: time, high, ...others };
}

function refuseNoFlag(failed: Uint8Array): void {
  let bits = 0;
  for (let life = 0; life < failed.length; life++) bits |= failed[life]!;
  if (bits <= 1) return;
  const life = failed.findIndex((flag) => flag > 1);
  throw notPossible("failed", life, failed[life]!);
}

function refuseOutside(name: string, column: Float64Array, most: number): void {
  for (let life = 0; life < column.length; life++) {
    if (!(column[life]! >= 0 && column[life]! <= most)) throw notPossible(name, life, column[life]!);
  }
}

function notPossible(name: string, life: number, found: number): RangeError {
  return new RangeError(`Cannot use the lives: ${name} of life ${life} (counted from 0) is ${found}`);
}

function refuseReversed({ low, high }: IntervalLives): void {
  for (let life = 0; life < high.length; life++) {
    if (!(high[life]! >= low[life]!)) {
      const found = `${low[life]} to ${high[life]}`;
      throw new RangeError(`Cannot use the lives: the ends of life ${life} (counted from 0) are ${found}`);
    }
  }
}
