/** Share of a parameter's own curvature that the others must leave it. */
export const FLAT = 1e-13;

/** The way from a slope to the top of the parabola that has it. */
export type Hill = (slope: Float64Array) => Float64Array;

/**
 * Cholesky's decomposition of minus second derivatives, each parameter in a unit in which its own is 1; on typed arrays, for refits of a
 * regression without each unit in turn need it by the hundred.
 * @param bend - second derivatives, symmetric
 * @returns null where they are not those of a hill, or nearly flat along some direction
 */
export function hillOf(bend: Float64Array, size: number): Hill | null {
  const unit = new Float64Array(size);
  for (let one = 0; one < size; one++) unit[one] = Math.sqrt(Math.abs(bend[one * size + one]!)) || 1;
  const root = new Float64Array(size * size);
  for (let row = 0; row < size; row++) {
    const pivot = addRow(root, bend, unit, row);
    if (!(pivot > FLAT && pivot < Number.POSITIVE_INFINITY)) return null;
    root[row * size + row] = Math.sqrt(pivot);
  }
  return (slope) => stepUp(root, unit, slope);
}

/** Fills a row before its diagonal; gives what the rows above leave of its own curvature. */
function addRow(root: Float64Array, bend: Float64Array, unit: Float64Array, row: number): number {
  const size = unit.length;
  for (let column = 0; ; column++) {
    let rest = -bend[row * size + column]! / (unit[row]! * unit[column]!);
    for (let at = 0; at < column; at++) rest -= root[row * size + at]! * root[column * size + at]!;
    if (column === row) return rest;
    root[row * size + column] = rest / root[column * size + column]!;
  }
}

function stepUp(root: Float64Array, unit: Float64Array, slope: Float64Array): Float64Array {
  const size = unit.length;
  const step = new Float64Array(size);
  for (let row = 0; row < size; row++) {
    let rest = slope[row]! / unit[row]!;
    for (let at = 0; at < row; at++) rest -= root[row * size + at]! * step[at]!;
    step[row] = rest / root[row * size + row]!;
  }
  for (let row = size - 1; row >= 0; row--) {
    let rest = step[row]!;
    for (let at = row + 1; at < size; at++) rest -= root[at * size + row]! * step[at]!;
    step[row] = rest / root[row * size + row]!;
  }
  for (let one = 0; one < size; one++) step[one]! /= unit[one]!;
  return step;
}
