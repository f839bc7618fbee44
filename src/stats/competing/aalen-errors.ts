import type { IncidenceCurve } from "./incidence-curve.ts";
import type { WatchedLives } from "./watched-lives.ts";

/**
 * Aalen's standard error of a cumulative incidence. At each age s the failures d of the cause, and those of all others, are taken
 * as drawn without replacement from the n at risk: each adds S(s-)^2 d (n - d) / (n^2 (n - 1)), times the square of what one
 * failure there moves the incidence by: 1 for the cause itself, less (F(t) - F(s)) / S(s).
 * @see O. Aalen, Annals of Statistics 6 (1978) 534-545; the hypergeometric factor for ties as in R. J. Gray's cumulative incidences
 */
export function aalenErrors({ atRisk, failed: all, survival }: WatchedLives, curve: IncidenceCurve): Float64Array {
  const { failed, toCome } = curve;
  // The variance as a polynomial in what is to come after t: its terms are small where lives are few and the factors large.
  let level = 0;
  let slope = 0;
  let square = 0;
  return atRisk.map((n, age) => {
    const factor = (survival[age]! / n) ** 2;
    const ofCause = factor * drawnVariance(failed[age]!, n);
    const ofOthers = factor * drawnVariance(all[age]! - failed[age]!, n);
    const later = n > all[age]! && survival[age]! > 0 ? n / (survival[age]! * (n - all[age]!)) : 0;
    const moved = -later * toCome[age]!;
    level += ofCause * (1 + moved) ** 2 + ofOthers * moved ** 2;
    slope += (ofCause * (1 + moved) + ofOthers * moved) * later;
    square += (ofCause + ofOthers) * later ** 2;
    const rest = toCome[age]!;
    return Math.sqrt(Math.max(0, level + 2 * slope * rest + square * rest ** 2));
  });
}

function drawnVariance(failures: number, atRisk: number): number {
  return failures > 1 ? (failures * (atRisk - failures)) / (atRisk - 1) : failures;
}
