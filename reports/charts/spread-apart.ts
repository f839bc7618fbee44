/**
 * Places for labels that belong at `wanted` heights, moved as little as keeps them `gap` apart and between `low` and `high`.
 * Where there is no room for all, they are evenly spread.
 */
export function spreadApart(wanted: number[], gap: number, low: number, high: number): number[] {
  const room = Math.min(gap, (high - low) / Math.max(1, wanted.length - 1));
  const order = wanted.map((_, index) => index).toSorted((a, b) => wanted[a]! - wanted[b]! || a - b);
  const placed = order.map((index) => Math.min(Math.max(wanted[index]!, low), high));
  for (let place = 1; place < placed.length; place++)
    placed[place] = Math.max(placed[place]!, placed[place - 1]! + room);
  for (let place = placed.length - 1, edge = high; place >= 0; place--, edge -= room) {
    placed[place] = Math.min(placed[place]!, edge);
  }
  const result = wanted.slice();
  for (const [place, index] of order.entries()) result[index] = placed[place]!;
  return result;
}
