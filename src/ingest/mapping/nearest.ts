/** The word of `known` with the fewest letters to change to get `word`, regardless of case; none of an empty list. */
export function nearest(word: string, known: readonly string[]): string | undefined {
  const distances = known.map((candidate) => editDistance(word.toLowerCase(), candidate.toLowerCase()));
  return known[distances.indexOf(Math.min(...distances))];
}

/** Letters to insert, delete or replace (Levenshtein). */
function editDistance(from: string, to: string): number {
  let previous = Array.from({ length: to.length + 1 }, (_, index) => index);
  for (let row = 1; row <= from.length; row++) {
    const current = [row];
    for (let column = 1; column <= to.length; column++) {
      const replaced = previous[column - 1]! + Number(from[row - 1] !== to[column - 1]);
      current.push(Math.min(replaced, previous[column]! + 1, current[column - 1]! + 1));
    }
    previous = current;
  }
  return previous[to.length]!;
}
