import type { DegreeAndShape, RepairLikelihood } from "./repair-likelihood.ts";

/** Standard errors of the degree, null at a bound, and of log shape and log scale; null where the likelihood is no hill there. */
export function repairErrors(
  likelihood: RepairLikelihood,
  at: DegreeAndShape,
): { q: number | null; logShape: number; logScale: number } | null {
  const free = at.q > 0 && at.q < 1;
  const { qq, qe, ee } = likelihood.atBestScale(at, free);
  const variance = free ? inverse(-qq, -qe, -ee) : { qq: 0, qe: 0, ee: -1 / ee };
  if (!(variance.ee > 0 && (variance.qq > 0 || !free))) return null;
  // At a degree and shape the log scale has information failures * shape^2 of its own; the rest comes through its best value.
  const { q, e } = likelihood.bestLogScale(at, free);
  const own = 1 / (likelihood.gaps.failures * Math.exp(at.e) ** 2);
  const logScale = own + q * q * variance.qq + 2 * q * e * variance.qe + e * e * variance.ee;
  return {
    q: free ? Math.sqrt(variance.qq) : null,
    logShape: Math.sqrt(variance.ee),
    logScale: Math.sqrt(logScale),
  };
}

/** Of the symmetric matrix [[qq, qe], [qe, ee]]. */
function inverse(qq: number, qe: number, ee: number): { qq: number; qe: number; ee: number } {
  const determinant = qq * ee - qe * qe;
  return determinant > 0
    ? { qq: ee / determinant, qe: -qe / determinant, ee: qq / determinant }
    : { qq: 0, qe: 0, ee: 0 };
}
