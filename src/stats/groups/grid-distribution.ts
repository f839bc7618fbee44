/** A density on an even grid that dies away at both ends, with its cumulative probability at the middles between points. */
export type GridDistribution = { start: number; step: number; density: Float64Array; below: Float64Array };

/**
 * @param masses - density at `start`, `start + step`, ... up to a factor, not all 0
 */
export function gridDistribution(start: number, step: number, masses: ArrayLike<number>): GridDistribution {
  const size = masses.length;
  let total = 0;
  for (let at = 0; at < size; at++) total += masses[at]!;
  const density = new Float64Array(size);
  for (let at = 0; at < size; at++) density[at] = masses[at]! / total;
  // A cell's integral from its middle value is density + second difference / 24; the sums of those telescope.
  const below = new Float64Array(size + 1);
  let sum = 0;
  for (let at = 0; at <= size; at++) {
    const [before, here] = [at > 0 ? density[at - 1]! : 0, at < size ? density[at]! : 0];
    below[at] = sum + (here - before) / 24;
    sum += here;
  }
  below[0] = 0;
  below[size] = 1;
  return { start, step, density, below };
}

/** Probability of at most `x`: cubic between the middles of the grid's cells, from the density there. */
export function probabilityBelow({ start, step, density, below }: GridDistribution, x: number): number {
  const place = (x - start) / step + 0.5;
  if (!(place > 0)) return 0;
  if (place >= density.length) return 1;
  const cell = Math.floor(place);
  const part = place - cell;
  const [from, to] = [below[cell]!, below[cell + 1]!];
  const slopeFrom = middleDensity(density, cell);
  const slopeTo = middleDensity(density, cell + 1);
  const rise = to - from;
  const bend = slopeFrom + slopeTo - 2 * rise;
  return from + part * (slopeFrom + part * (3 * rise - 2 * slopeFrom - slopeTo + part * bend));
}

/** Density between points `right - 1` and `right`, through the four nearest points. */
function middleDensity(density: Float64Array, right: number): number {
  const [last, size] = [right - 1, density.length];
  const near = (last >= 0 ? density[last]! : 0) + (right < size ? density[right]! : 0);
  const far = (last >= 1 ? density[last - 1]! : 0) + (right + 1 < size ? density[right + 1]! : 0);
  return Math.max(0, (9 * near - far) / 16);
}
