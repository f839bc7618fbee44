/** The value of a function of (w, e) and its first and second derivatives. */
export type Terms = { value: number; w: number; e: number; ww: number; we: number; ee: number };

/** The value of a function of e and its first and second derivative. */
export type Curve = { value: number; e: number; ee: number };

/** Names of the families. */
export type FamilyName = "weibull" | "exponential" | "lognormal" | "log-logistic" | "gamma";

/**
 * A family of life distributions of two parameters, scale and shape: log T = log(scale) + W, where the distribution of W depends on the
 * shape alone. Everything is a function of w = log(t / scale) and e = log(shape), neither of which depends on the unit of the ages.
 * Functions of (w, e) write into `out`, so that a pass over many lives makes no objects.
 */
export type Family = {
  name: FamilyName;
  /** False where the shape is 1 and not fitted. */
  fitsShape: boolean;
  /** Log of the density of W at w; that of T at t = scale * exp(w) is it less log t. */
  logDensity(w: number, e: number, out: Terms): void;
  /** Log of the fraction unfailed, to full relative precision far out in either tail. */
  logSurvival(w: number, e: number, out: Terms): void;
  /** Log of the fraction failed, to full relative precision far out in either tail. */
  logFailed(w: number, e: number, out: Terms): void;
  /** w by which the fraction p has failed, 0 < p < 1. */
  quantile(p: number, e: number): Curve;
  /** Log of the mean of T / scale; null where the mean is infinite. */
  logMean(e: number): Curve | null;
  /** Mean and standard deviation of W at shape 1, from which a fit starts. */
  start: { mean: number; deviation: number };
};

/** Terms to be written into. */
export function emptyTerms(): Terms {
  return { value: 0, w: 0, e: 0, ww: 0, we: 0, ee: 0 };
}
