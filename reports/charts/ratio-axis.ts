/** Ratios worth a mark on a logarithmic axis. */
const MARKS = [0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.85, 1, 1.2, 1.5, 2, 3, 5, 10, 20, 50];

/**
 * A logarithmic axis about 1 for ratios: as far as they go, but no further than three times beyond the `main` ones, so that wide limits do not
 * flatten them.
 */
export function ratioAxis(ratios: number[], main: number[]): { domain: [number, number]; ticks: number[] } {
  const least = Math.max(Math.min(...ratios), Math.min(...main) / 3);
  const most = Math.min(Math.max(...ratios), Math.max(...main) * 3);
  const low = Math.min(0.8, least) / 1.05;
  const high = Math.max(1.25, most) * 1.05;
  return { domain: [low, high], ticks: MARKS.filter((mark) => mark >= low && mark <= high) };
}
