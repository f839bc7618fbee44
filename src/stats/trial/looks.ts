/** Looks of whole failures at a trial of any size we meet lie farther apart; nearer ones take too fine a grid. */
const NEAREST = 1 / 4000;

/**
 * Why looks can't be judged one after another; null where they can.
 * @param failures - seen by each look
 * @throws RangeError for what is no number of failures
 */
export function looksRefusal(failures: readonly number[]): string | null {
  const wrong = failures.find((seen) => !(seen >= 0 && seen < Number.POSITIVE_INFINITY));
  if (wrong !== undefined) throw new RangeError(`Cannot judge looks: failures must be 0 or more, found ${wrong}`);
  if (failures.length === 0) return "there is no look";
  for (const [look, seen] of failures.entries()) {
    const before = failures[look - 1] ?? 0;
    if (seen === 0) return "a look without failures shows nothing";
    if (seen <= before) return `a look at ${seen} failures shows nothing new after one at ${before}`;
    if (seen - before < seen * NEAREST) return `looks at ${before} and ${seen} failures are too near to each other`;
  }
  return null;
}
