/**
 * Fills `into` with b'x of some rows.
 * @param x - columns row by row, of which the first row begins at `from`
 */
export function linearTerms(into: Float64Array, b: Float64Array, x: Float64Array, from: number, rows: number): void {
  if (b.length === 3) ofThree(into, b, x, from, rows);
  else ofAny(into, b, x, from, rows);
}

/** The plain way, for any number of columns. */
export function ofAny(into: Float64Array, b: Float64Array, x: Float64Array, from: number, rows: number): void {
  for (let row = 0, at = from; row < rows; row++) {
    let sum = 0;
    for (let one = 0; one < b.length; one++, at++) sum += b[one]! * x[at]!;
    into[row] = sum;
  }
}

/** In two thirds of the time. */
function ofThree(into: Float64Array, b: Float64Array, x: Float64Array, from: number, rows: number): void {
  const first = b[0]!;
  const second = b[1]!;
  const third = b[2]!;
  for (let row = 0, at = from; row < rows; row++, at += 3) {
    into[row] = first * x[at]! + second * x[at + 1]! + third * x[at + 2]!;
  }
}
