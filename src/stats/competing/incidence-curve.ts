import type { WatchedLives } from "./watched-lives.ts";

/** Failures of one cause and its cumulative incidence, by age, and what of the incidence is still to come after it. */
export type IncidenceCurve = { failed: Float64Array; incidence: Float64Array; toCome: Float64Array };

/** The Aalen-Johansen incidence of a cause. */
export function incidenceCurve({ atRisk, survival, to, cause, count }: WatchedLives, of: number): IncidenceCurve {
  const failed = new Float64Array(atRisk.length);
  for (let row = 0; row < cause.length; row++) if (cause[row] === of) failed[to[row]!]! += count[row]!;
  const gain = failed.map((lives, age) => (survival[age]! * lives) / atRisk[age]!);
  const incidence = new Float64Array(gain.length);
  for (let age = 0; age < gain.length; age++) incidence[age] = (incidence[age - 1] ?? 0) + gain[age]!;
  const toCome = new Float64Array(gain.length);
  for (let age = gain.length - 2; age >= 0; age--) toCome[age] = toCome[age + 1]! + gain[age + 1]!;
  return { failed, incidence, toCome };
}
