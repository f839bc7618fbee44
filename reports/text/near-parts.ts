/** Links that a page has room for at most, beside those to the pages next to it. */
const MOST = 24;

/** Which of `size` pages the one at `place` leads to, in order: all of a few; of many the next ones, and some spread evenly, the first and the last with them. */
export function nearParts(size: number, place: number): number[] {
  if (size <= MOST) return Array.from({ length: size }, (_, at) => at);
  const spread = Array.from({ length: MOST }, (_, at) => Math.round((at * (size - 1)) / (MOST - 1)));
  const next = [place - 1, place, place + 1].filter((at) => at >= 0 && at < size);
  return [...new Set([...spread, ...next])].sort((one, other) => one - other);
}
