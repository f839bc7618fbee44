/**
 * Lives known exactly or followed to an age without failing (right-censored), in columns of equal length.
 * All ages are in one unit, whatever it is.
 */
export type Lives = {
  /** Age at the end of the life, 0 or more. */
  time: Float64Array;
  /** 1: the life ended by failure at `time`; 0: it was still unfailed then. */
  failed: Uint8Array;
  /** Age at which the life came under observation (left truncation); 0 is from the start. At risk when entry < t <= time. */
  entry?: Float64Array;
  /** How many identical lives a row stands for, 0 or more; 1 where not given. */
  count?: Float64Array;
};

/** Lives of which some are only known to have failed within an interval, in columns of equal length. */
export type IntervalLives = {
  /** Last age known unfailed; 0 with a finite `high` is left-censored. */
  low: Float64Array;
  /** First age known failed; Infinity is right-censored, equal to `low` is exact. */
  high: Float64Array;
  /** As for `Lives`; not above `low`. */
  entry?: Float64Array;
  /** As for `Lives`. */
  count?: Float64Array;
};
