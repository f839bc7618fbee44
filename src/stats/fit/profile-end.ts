/** Root of twice the log-likelihood ratio at a value, and its derivative; both near linear in the value. */
export type RootProfile = {
  /** The maximum, on the working scale. */
  middle: number;
  /** Its standard error, from which the search starts. */
  error: number;
  /** A fresh run outwards from the maximum, in which each profile starts where the last one ended. */
  walk(): (value: number) => { root: number; slope: number } | null;
};

const MOST_STEPS = 100;
/** Furthest from the estimate that a limit is looked for, on the log scale: a factor of 1e26. */
const FURTHEST = 60;
/** A limit is known when a step moves it by less than this, on the log scale. */
const SETTLED = 1e-11;
/** A root this near to the one wanted, as a share of it, is it; otherwise what ends there is the reach of the quantity. */
const NEAR = 1e-3;

/**
 * The value on one side where the root reaches `wanted`: Newton from the normal-theory value, kept inside the bracket.
 * @returns null where the root stays below `wanted` out to the furthest value looked at, or at which the quantity can be had
 */
export function profileEnd({ middle, error, walk }: RootProfile, side: -1 | 1, wanted: number): number | null {
  const rootAt = walk();
  let inside = 0;
  let outside = Number.POSITIVE_INFINITY;
  let reach = Math.min(wanted * error, FURTHEST);
  let missing = wanted;
  for (let step = 0; step < MOST_STEPS; step++) {
    const found = rootAt(middle + side * reach);
    missing = found === null ? Number.NEGATIVE_INFINITY : wanted - found.root;
    const newton = found === null ? Number.NaN : reach + missing / (side * found.slope);
    if (missing > 0) inside = reach;
    else outside = reach;
    const next = nextReach(newton, inside, outside);
    if (next === null) return null;
    const settled = Math.abs(next - reach) < SETTLED * (1 + Math.abs(middle));
    reach = next;
    if (settled) break;
  }
  return Math.abs(missing) < NEAR * wanted ? middle + side * reach : null;
}

/** Newton's value where it lies in the bracket and not too far out, else the middle of the bracket or three times as far. */
function nextReach(newton: number, inside: number, outside: number): number | null {
  if (outside === Number.POSITIVE_INFINITY) {
    if (inside >= FURTHEST) return null;
    return Math.min(newton > inside && newton < 3 * inside ? newton : 3 * inside, FURTHEST);
  }
  return newton > inside && newton < outside ? newton : (inside + outside) / 2;
}
