import type { Survival } from "./survival.ts";

/**
 * Powers of the step by which the error of a Stieltjes sum falls, the two that fall least: 2 of the trapezoid rule, and where the
 * distribution starts as age^p, 1 + p and 1 + 2p of its ends.
 */
export function errorPowers(survival: Survival, step: number): [number, number] {
  const start = startPower(survival, step);
  const powers = [2, 1 + start, 1 + 2 * start].sort((one, other) => one - other);
  const first = powers[0]!;
  return [first, powers.find((power) => power > first + DISTINCT) ?? first + 1];
}

/** Powers nearer than this are taken as one. */
const DISTINCT = 0.05;
/** A distribution that starts no less steeply than so is smooth enough. */
const SMOOTH = 4;
/** A chance of failing that a survival function still tells exactly enough. */
const LEAST = 1e-8;

/** p of a distribution that starts as age^p, from two ages far within a step. */
function startPower(survival: Survival, step: number): number {
  for (const share of [1 / 4096, 1 / 64, 1]) {
    const [half, whole] = [1 - survival((step * share) / 2), 1 - survival(step * share)];
    if (half > LEAST) return Math.min(Math.max(Math.log2(whole / half), 1 / 8), SMOOTH);
  }
  return SMOOTH;
}

/** Limit of sums at steps of 4, 2 and 1 whose errors fall by two powers. */
export function extrapolated(
  [coarse, middle, fine]: readonly [number, number, number],
  powers: [number, number],
): number {
  const [first, second] = [2 ** powers[0] - 1, 2 ** powers[1] - 1];
  const outer = middle + (middle - coarse) / first;
  const inner = fine + (fine - middle) / first;
  return inner + (inner - outer) / second;
}
