/** A Weibull line through plotting positions: shape, scale in the unit of the ages, and squared correlation of the points. */
export type RankRegression = { shape: number; scale: number; rSquared: number };

/** Which of the two is taken as known and which as scattered: log age about the line given the position, or the reverse. */
export type RegressionDirection = "age on position" | "position on age";

/**
 * Least-squares line through the points of probability paper, x = ln(age), y = ln(-ln(1 - fraction failed)).
 * For display and comparison: it leans on few early failures, and its scatter gives no honest limits.
 * @param age - ages above 0
 * @param fractionFailed - plotting positions, 0 to 1 exclusive, one for each age
 * @param direction - the two give different lines: always say which was taken
 * @returns shape and scale, and the squared correlation of x and y; null under 2 points, where all ages or all positions are equal, and
 *   where positions don't rise with age or so little that the line has no scale
 * @throws RangeError if the columns differ in length or a value lies outside its range
 * @see IEC 61649, Weibull analysis
 * @example rankRegression(ages, positions, "age on position");
 */
export function rankRegression(
  age: Float64Array,
  fractionFailed: Float64Array,
  direction: RegressionDirection,
): RankRegression | null {
  checkPoints(age, fractionFailed);
  const x = age.map(Math.log);
  const y = fractionFailed.map((fraction) => Math.log(-Math.log1p(-fraction)));
  const middle = { x: mean(x), y: mean(y) };
  const xx = productSum(x, x, middle.x, middle.x);
  const yy = productSum(y, y, middle.y, middle.y);
  const xy = productSum(x, y, middle.x, middle.y);
  if (!(xx > 0 && yy > 0 && xy > 0)) return null;
  const shape = direction === "age on position" ? yy / xy : xy / xx;
  const scale = Math.exp(middle.x - middle.y / shape);
  if (!(scale > 0 && scale < Number.POSITIVE_INFINITY)) return null;
  return { shape, scale, rSquared: Math.min(1, (xy / xx) * (xy / yy)) };
}

function checkPoints(age: Float64Array, fractionFailed: Float64Array): void {
  if (age.length !== fractionFailed.length) {
    throw new RangeError(`Cannot draw a line: found ${age.length} ages and ${fractionFailed.length} positions`);
  }
  const wrong = age.findIndex((one, at) => !(one > 0 && fractionFailed[at]! > 0 && fractionFailed[at]! < 1));
  if (wrong >= 0)
    throw new RangeError(`Cannot draw a line: found age ${age[wrong]} at position ${fractionFailed[wrong]}`);
}

function mean(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function productSum(a: Float64Array, b: Float64Array, meanA: number, meanB: number): number {
  return a.reduce((sum, value, at) => sum + (value - meanA) * (b[at]! - meanB), 0);
}
