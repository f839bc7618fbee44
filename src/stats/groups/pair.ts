/** Two numbers that belong together: of log scale and of log shape. */
export type Pair = [number, number];

/** A symmetric 2 x 2 matrix: [first, across, second]. */
export type Symmetric = [number, number, number];

/** matrix times vector. */
export function times([a, b, c]: Symmetric, [x, y]: Pair): Pair {
  return [a * x + b * y, b * x + c * y];
}

/** vector' matrix vector. */
export function form([a, b, c]: Symmetric, [x, y]: Pair): number {
  return a * x * x + 2 * b * x * y + c * y * y;
}

export function determinant([a, b, c]: Symmetric): number {
  return a * c - b * b;
}

/** Inverse of a matrix that has one. */
export function inverse(matrix: Symmetric): Symmetric {
  const d = determinant(matrix);
  return [matrix[2] / d, -matrix[1] / d, matrix[0] / d];
}

/** The matrix with its eigenvalues raised to `least` where they lie below. */
export function raised([a, b, c]: Symmetric, least: number): Symmetric {
  const middle = (a + c) / 2;
  const reach = Math.hypot((a - c) / 2, b);
  if (middle - reach >= least) return [a, b, c];
  if (middle + reach <= least || reach === 0) return [least, 0, least];
  const half = (Math.max(middle + reach, least) - least) / (2 * reach);
  // Projection on the eigenvector of the larger value: (M - middle + reach) / (2 reach).
  return [least + half * (a - middle + reach), half * b, least + half * (c - middle + reach)];
}
