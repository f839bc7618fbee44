import type { IncidenceCurve } from "./incidence-curve.ts";
import type { WatchedLives } from "./watched-lives.ts";

/**
 * Infinitesimal jackknife standard error of a cumulative incidence over lives: the root of the sum over lives of U^2, where U is
 * the derivative of F(t) with respect to the life's weight. With G = sum d / (n (n - d)) and K = sum (G(s-) - 1 / n(s)) dF(s),
 * a life that entered at e has U(t) = K - K_e - G_e (F - F_e) while it is at risk; once it has ended, at T, that up to T, plus
 * S(T-) / n(T) if of this cause, plus (G(T) - G_e - [it failed] / (n(T) - d(T))) times (F(t) - F(T)).
 * So the sum is a polynomial in K(t) and F(t) whose coefficients change only as lives come and go.
 */
export function jackknifeErrors(watched: WatchedLives, curve: IncidenceCurve, of: number): Float64Array {
  const sums = influenceSums(watched, curve);
  const change = changes(watched, curve, sums, of);
  const errors = new Float64Array(watched.time.length);
  let [n, g, gg, b, bb, gb, aa, ac, cc] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let age = 0; age < errors.length; age++) {
    n += change.n[age]!;
    g += change.g[age]!;
    gg += change.gg[age]!;
    b += change.b[age]!;
    bb += change.bb[age]!;
    gb += change.gb[age]!;
    aa += change.aa[age]!;
    ac += change.ac[age]!;
    cc += change.cc[age]!;
    const k = sums.k[age + 1]!;
    const f = sums.f[age + 1]!;
    const rest = curve.toCome[age]!;
    const active = n * k * k + gg * f * f + bb - 2 * k * f * g - 2 * k * b + 2 * f * gb;
    const ended = aa - 2 * rest * ac + rest * rest * cc;
    errors[age] = Math.sqrt(Math.max(0, active + ended));
  }
  return errors;
}

/** G, F and K after so many ages; 0 after none. */
type InfluenceSums = { g: Float64Array; f: Float64Array; k: Float64Array };

function influenceSums({ atRisk, failed }: WatchedLives, { incidence }: IncidenceCurve): InfluenceSums {
  const g = new Float64Array(atRisk.length + 1);
  const f = new Float64Array(atRisk.length + 1);
  const k = new Float64Array(atRisk.length + 1);
  for (let age = 0; age < atRisk.length; age++) {
    const n = atRisk[age]!;
    f[age + 1] = incidence[age]!;
    k[age + 1] = k[age]! + (g[age]! - 1 / n) * (f[age + 1]! - f[age]!);
    g[age + 1] = g[age]! + (failed[age]! < n ? failed[age]! / (n * (n - failed[age]!)) : 0);
  }
  return { g, f, k };
}

/**
 * Changes, age by age, of the sums over lives at risk of 1, G, G^2, B, B^2 and G B, where B = K_e - G_e F_e, and over lives ended
 * of A^2, A C and C^2, where U(t) = A - C (what is to come after t).
 */
function changes(
  watched: WatchedLives,
  curve: IncidenceCurve,
  sums: InfluenceSums,
  of: number,
): Record<"n" | "g" | "gg" | "b" | "bb" | "gb" | "aa" | "ac" | "cc", Float64Array> {
  const column = () => new Float64Array(watched.time.length);
  const change = {
    ...{ n: column(), g: column(), gg: column(), b: column(), bb: column(), gb: column() },
    ...{ aa: column(), ac: column(), cc: column() },
  };
  const comes = (age: number, count: number, g: number, b: number) => {
    change.n[age]! += count;
    change.g[age]! += count * g;
    change.gg[age]! += count * g * g;
    change.b[age]! += count * b;
    change.bb[age]! += count * b * b;
    change.gb[age]! += count * g * b;
  };
  for (let row = 0; row < watched.to.length; row++) {
    const from = watched.from[row]!;
    const to = watched.to[row]!;
    const g = sums.g[from]!;
    const b = sums.k[from]! - g * sums.f[from]!;
    comes(from, watched.count[row]!, g, b);
    comes(to, -watched.count[row]!, g, b);
    const left = watched.atRisk[to]! - watched.failed[to]!;
    const last = watched.cause[row]! >= 0 ? 1 / left : 0;
    const c = left > 0 ? sums.g[to + 1]! - g - last : 0;
    const own = watched.cause[row] === of ? watched.survival[to]! / watched.atRisk[to]! : 0;
    const a = sums.k[to + 1]! - b - g * sums.f[to + 1]! + own + c * curve.toCome[to]!;
    change.aa[to]! += watched.count[row]! * a * a;
    change.ac[to]! += watched.count[row]! * a * c;
    change.cc[to]! += watched.count[row]! * c * c;
  }
  return change;
}
