/** What is compared. */
export type Kind =
  | "estimates"
  | "covariance"
  | "log-likelihood"
  | "Kaplan-Meier"
  | "Nelson-Aalen"
  | "log-rank"
  | "incidence"
  | "incidence s.e."
  | "Turnbull";

/**
 * How far figures may lie apart, in units of ours: standard errors for estimates of the log scale and log shape, the variances for a
 * covariance, else the figure itself (or 1, where that is larger, for log-likelihoods, sums and chi-squares).
 */
const TOLERANCES: Record<string, number> = {
  // Ours stops when its steps are at rounding; survreg, with rel.tolerance 1e-14 and ages of order 1, when its log-likelihood is.
  // A log-likelihood known to 1e-14 places its maximum no better than to the root of that.
  "estimates, survreg": 1e-8,
  "covariance, survreg": 1e-8,
  "log-likelihood, survreg": 1e-12,
  // optim compares log-likelihoods of up to 1e4, with rounding of 1e-12: the root of that, and a step of the simplex.
  "estimates, optim": 1e-4,
  // Differences of differences over steps of 1e-4.
  "covariance, optim": 1e-4,
  "log-likelihood, optim": 1e-11,
  // Sums and products of the same terms: rounding alone.
  "Kaplan-Meier, survfit": 1e-12,
  "Nelson-Aalen, survfit": 1e-12,
  "log-rank, survdiff": 1e-10,
  "log-rank, by hand": 1e-10,
  "incidence, survfit": 1e-12,
  // The root of sums that may cancel to nothing: absolute, the root of rounding.
  "incidence s.e., survfit": 1e-7,
  // The conditions of the greatest likelihood hold on both sides to 1e-12 or better.
  "Turnbull, by hand": 1e-7,
  // survfit stops when a step moves no survival by over 5e-5, however many such steps there are to go.
  "Turnbull, survfit": 2e-3,
};

/** What a difference may be at most. */
export function allowedDifference(kind: Kind, peer: string): number {
  const allowed = TOLERANCES[`${kind}, ${peer}`];
  if (allowed === undefined) throw new TypeError(`Cannot compare ${kind} with ${peer}: no tolerance is written down`);
  return allowed;
}
