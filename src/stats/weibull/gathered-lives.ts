/**
 * All that the Weibull likelihood needs of a set of lives: identical terms once, ages as z = log(age) - typicalLog,
 * which are of order 1 whatever the unit of the ages.
 */
export type GatheredLives = {
  /** Mean log age at failure. */
  typicalLog: number;
  /** Standard deviation of z over the failures. */
  spread: number;
  /** Failures of any kind: exact, left- and interval-censored. */
  failures: number;
  /** Exact failures. */
  exact: number;
  /** Their sum of z. */
  exactSum: number;
  /** z of each term weight * (cumulative hazard at z). */
  z: Float64Array;
  /** As long as `z`. */
  weight: Float64Array;
  /** Of each row of interval-censored lives, z of the low end; -Infinity where left-censored. The next three are as long. */
  lowZ: Float64Array;
  /** z of the high end. */
  highZ: Float64Array;
  /** log(high / low). */
  width: Float64Array;
  /** How many lives the row stands for. */
  intervalCount: Float64Array;
};
