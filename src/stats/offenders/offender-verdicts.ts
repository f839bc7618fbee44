import type { FoundTwoGroups } from "./two-groups.ts";

/** What is said of an entity. */
export type OffenderVerdict = "offender" | "watch" | "within chance";

/** What is said of each entity, and how far the list can be trusted. */
export type OffenderVerdicts = {
  /** A verdict per entity. */
  verdict: OffenderVerdict[];
  /** Offenders. */
  named: number;
  /** How many of them are ordinary, on average: the sum of their probabilities of being so. */
  falseNamesExpected: number;
  /** Whether two groups fit clearly better than one; if not there are no offenders. */
  clear: boolean;
};

/** Share of false names that the list may hold. */
const FALSE_SHARE = 0.08;
/** Least gain with which there are said to be two groups. */
const CLEAR_GAIN = 6;
/** Probability of being ordinary up to which an entity is watched. */
const WATCHED = 0.35;

/**
 * Verdicts: offenders are the longest list, most certain first, whose mean probability of being ordinary is at most 0.08, provided that
 * two groups fit clearly better than one (gain of 6 or more); those up to 0.35 are to be watched; all else is within chance. An entity
 * that is equal to one on the list is on it, or neither is.
 * @param fit - the two groups, as `fitTwoGroups` finds them
 * @param probabilityOrdinary - of each entity, as `twoGroupRatios` gives it
 * @returns a verdict per entity, and the number of false names to expect
 * @throws RangeError for what is no probability
 * @see B. Efron, Large-Scale Inference, 2010, ch. 5: the mean local rate of a list is its false discovery rate
 * @example offenderVerdicts({ gain: 9 }, Float64Array.of(0.9, 0.01, 0.12)); // within chance, offender, offender
 */
export function offenderVerdicts(
  { gain }: Pick<FoundTwoGroups, "gain">,
  probabilityOrdinary: Float64Array,
): OffenderVerdicts {
  const wrong = probabilityOrdinary.find((p) => !(p >= 0 && p <= 1));
  if (wrong !== undefined) throw new RangeError(`Cannot give verdicts: a probability lies in 0 to 1, found ${wrong}`);
  const clear = gain >= CLEAR_GAIN;
  const { most, sum, named } = clear ? longestList(probabilityOrdinary) : { most: -1, sum: 0, named: 0 };
  const verdict = Array.from(probabilityOrdinary, (p): OffenderVerdict => {
    if (p <= most) return "offender";
    return p <= WATCHED ? "watch" : "within chance";
  });
  return { verdict, named, falseNamesExpected: sum, clear };
}

/** The largest probability on the list, the sum of those on it, and how many they are. */
function longestList(probabilities: Float64Array): { most: number; sum: number; named: number } {
  const sorted = probabilities.slice().sort();
  let list = { most: -1, sum: 0, named: 0 };
  let sum = 0;
  for (let at = 0; at < sorted.length; at++) {
    sum += sorted[at]!;
    if (sorted[at] === sorted[at + 1]) continue;
    if (sum > FALSE_SHARE * (at + 1)) break;
    list = { most: sorted[at]!, sum, named: at + 1 };
  }
  return list;
}
