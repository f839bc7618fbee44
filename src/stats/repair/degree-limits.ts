import { type DegreeProfile, type ProfilePoint, profilePoint } from "./degree-profile.ts";
import type { RepairLikelihood } from "./repair-likelihood.ts";

const MOST_STEPS = 100;
/** A limit is known when a step moves it by less than this share of itself. */
const SETTLED = 1e-10;

/**
 * Profile-likelihood limits of the degree within [0, 1]: the outermost degrees whose likelihood lies within half the cut-off of the top,
 * so that they hold every top that agrees with the data.
 */
export function degreeLimits(
  likelihood: RepairLikelihood,
  { points, top }: DegreeProfile,
  cutOff: number,
): { low: number; high: number } {
  const wanted = Math.sqrt(cutOff);
  const limitAlong = (outwards: ProfilePoint[]) => {
    const inner = outwards.findIndex((point) => rootOf(point, top) <= wanted);
    if (inner === 0) return outwards[0]!.at.q;
    return crossing(likelihood, { outer: outwards[inner - 1]!, inner: outwards[inner]! }, top, wanted);
  };
  return { low: limitAlong(points), high: limitAlong(points.toReversed()) };
}

/** Root of twice the log-likelihood ratio to the top; near linear in the parameters. */
export function rootOf(point: { slopes: { value: number } }, top: { slopes: { value: number } }): number {
  return Math.sqrt(Math.max(0, 2 * (top.slopes.value - point.slopes.value)));
}

type Bracket = { outer: ProfilePoint; inner: ProfilePoint };

/** The degree at which the root comes to the cut-off, by Newton kept inside the bracket, from where a straight line between its ends does. */
function crossing(likelihood: RepairLikelihood, bracket: Bracket, top: ProfilePoint, wanted: number): number {
  const missing = (point: ProfilePoint) => rootOf(point, top) - wanted;
  let [outer, inner] = [bracket.outer.at.q, bracket.inner.at.q];
  const [above, below] = [missing(bracket.outer), -missing(bracket.inner)];
  let at = { q: (outer * below + inner * above) / (below + above), e: bracket.inner.at.e };
  for (let step = 0; step < MOST_STEPS; step++) {
    const found = profilePoint(likelihood, at);
    if (found !== null && missing(found) > 0) outer = at.q;
    else inner = at.q;
    const newton =
      found === null
        ? Number.NaN
        : found.at.q + (missing(found) * rootOf(found, top)) / likelihood.atBestScale(found.at, true).q;
    const q = (newton - outer) * (newton - inner) < 0 ? newton : (outer + inner) / 2;
    const settled = Math.abs(q - at.q) < SETTLED * q;
    at = { q, e: found?.at.e ?? at.e };
    if (settled) break;
  }
  return at.q;
}
