/**
 * Adds weights, weights times each of `width` columns, and weights times each product of two (x_i x_j for j <= i), behind each other.
 * @param weight - of the rows, from 0 on
 * @param x - columns row by row, of which the first row begins at `from`
 */
export function addMoments(
  sums: Float64Array,
  weight: Float64Array,
  x: Float64Array,
  from: number,
  rows: number,
  width: number,
): void {
  if (width === 3) addThree(sums, weight, x, from, rows);
  else addAny(sums, weight, x, from, rows, width);
}

/** The plain way, for any width. */
export function addAny(
  sums: Float64Array,
  weight: Float64Array,
  x: Float64Array,
  from: number,
  rows: number,
  width: number,
): void {
  for (let row = 0, at = from; row < rows; row++, at += width) {
    const own = weight[row]!;
    sums[0]! += own;
    let product = width + 1;
    for (let one = 0; one < width; one++) {
      const part = own * x[at + one]!;
      sums[one + 1]! += part;
      for (let other = 0; other <= one; other++) sums[product++]! += part * x[at + other]!;
    }
  }
}

/** With all sums at hand at once, which takes a fifth of the time. */
function addThree(sums: Float64Array, weight: Float64Array, x: Float64Array, from: number, rows: number): void {
  let all = 0;
  let a = 0;
  let b = 0;
  let c = 0;
  let aa = 0;
  let ab = 0;
  let bb = 0;
  let ac = 0;
  let bc = 0;
  let cc = 0;
  for (let row = 0, at = from; row < rows; row++, at += 3) {
    const own = weight[row]!;
    const first = x[at]!;
    const second = x[at + 1]!;
    const third = x[at + 2]!;
    const ofFirst = own * first;
    const ofSecond = own * second;
    const ofThird = own * third;
    all += own;
    a += ofFirst;
    b += ofSecond;
    c += ofThird;
    aa += ofFirst * first;
    ab += ofSecond * first;
    bb += ofSecond * second;
    ac += ofThird * first;
    bc += ofThird * second;
    cc += ofThird * third;
  }
  sums[0]! += all;
  sums[1]! += a;
  sums[2]! += b;
  sums[3]! += c;
  sums[4]! += aa;
  sums[5]! += ab;
  sums[6]! += bb;
  sums[7]! += ac;
  sums[8]! += bc;
  sums[9]! += cc;
}
