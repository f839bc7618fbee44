import type { EffectDensity, EffectSlice } from "./effect-density.ts";

/** Moments E[a^i b^j] of a = u - centre and b = v - centre, i + j <= 4, and the log of the integral. */
export type EffectIntegral = {
  logIntegral: number;
  /** At [5 i + j]. */
  moments: Float64Array;
  /** Log shape of the top, from which the next search may start. */
  top: number;
};

/** Density of log scale at one log shape, on an even grid, up to a factor; and the log of its integral. */
export type SliceGrid = { v: number; logIntegral: number; start: number; step: number; masses: Float64Array };

/** Log densities this far below the greatest count for nothing. */
const LOWEST = 18;
/** Grid step in standard deviations: the trapezium rule errs by e^-20 on a normal density. */
const STEP = 1;
/** Longest step of log shape: the likelihood bends on a scale of 1 there whatever the data. */
const LONGEST_STEP = 0.5;
const MOST_NODES = 400;

/**
 * Integrates a group's likelihood times prior over log scale and log shape by the trapezium rule on grids that follow the
 * density: at each log shape one around the best log scale.
 * @param start - a log shape to begin at
 * @param keep - is given the grid at each log shape, from the top up and then from there down; its masses are written over later
 * @returns null where no top is found
 */
export function integrateEffects(
  density: EffectDensity,
  start: number,
  keep?: (grid: SliceGrid, step: number) => void,
): EffectIntegral | null {
  const top = topOf(density, start);
  if (top === null) return null;
  const step = Math.min(STEP * top.deviation, LONGEST_STEP);
  const sums = new MomentSums(density.prior.centre[1]);
  for (const side of [1, -1] as const) {
    let u = top.u;
    for (let node = side === 1 ? 0 : 1; node < MOST_NODES; node++) {
      const found = integrateSlice(density, top.v + side * node * step, u);
      if (found === null || found.grid.logIntegral < sums.largest - LOWEST) break;
      u = found.u;
      sums.add(found);
      keep?.(found.grid, step);
    }
  }
  return sums.result(step, top.v);
}

/** Written over by each slice, which would else spend most of its time on memory; 1 in the middle. */
const ROOM = new Float64Array(2 * MOST_NODES + 1).fill(1);

type SliceIntegral = { grid: SliceGrid; u: number; moments: Float64Array };

/** Integral over log scale at one log shape, and the moments of a = u - centre. */
function integrateSlice(density: EffectDensity, v: number, start: number): SliceIntegral | null {
  const slice = density.slice(v);
  const best = bestAlong(slice, start);
  if (best === null) return null;
  const deviation = 1 / Math.sqrt(-best.second);
  const step = STEP * (density.lives.failures < 2 ? Math.min(deviation, Math.exp(-v)) : deviation);
  const above = fillMasses(slice, best, step);
  const below = fillMasses(slice, best, -step);
  const masses = ROOM.subarray(MOST_NODES - below, MOST_NODES + above + 1);
  const from = best.u - below * step;
  const moments = momentsOf(masses, from - density.prior.centre[0], step);
  const logIntegral = best.value + Math.log(moments[0]! * step);
  return { grid: { v, logIntegral, start: from, step, masses }, u: best.u, moments };
}

/** Densities relative to the best, from the middle of the room outwards until they count for nothing; how many they are. */
function fillMasses(slice: EffectSlice, best: { u: number; value: number }, step: number): number {
  const side = Math.sign(step);
  for (let node = 1; node < MOST_NODES; node++) {
    const lower = slice.at(best.u + node * step).value - best.value;
    if (!(lower > -LOWEST)) return node - 1;
    ROOM[MOST_NODES + side * node] = Math.exp(lower);
  }
  return MOST_NODES - 1;
}

/** The sum of the masses, and their mean powers of a, the first of which is at `first`. */
function momentsOf(masses: Float64Array, first: number, step: number): Float64Array {
  let [zero, one, two, three, four] = [0, 0, 0, 0, 0];
  for (let node = 0; node < masses.length; node++) {
    const a = first + node * step;
    let mass = masses[node]!;
    zero += mass;
    mass *= a;
    one += mass;
    mass *= a;
    two += mass;
    mass *= a;
    three += mass;
    four += mass * a;
  }
  return Float64Array.of(zero, one / zero, two / zero, three / zero, four / zero);
}

/** Sums over log shapes, kept relative to the largest so far. */
class MomentSums {
  largest = Number.NEGATIVE_INFINITY;
  readonly #sums = new Float64Array(25);
  readonly #centre: number;

  constructor(centre: number) {
    this.#centre = centre;
  }

  add({ grid, moments }: SliceIntegral): void {
    if (grid.logIntegral > this.largest) {
      const shrink = Math.exp(this.largest - grid.logIntegral);
      for (let at = 0; at < 25; at++) this.#sums[at]! *= shrink;
      this.largest = grid.logIntegral;
    }
    let mass = Math.exp(grid.logIntegral - this.largest);
    for (let j = 0; j <= 4; j++) {
      this.#sums[j]! += mass;
      for (let i = 1; i + j <= 4; i++) this.#sums[5 * i + j]! += mass * moments[i]!;
      mass *= grid.v - this.#centre;
    }
  }

  result(step: number, top: number): EffectIntegral | null {
    const total = this.#sums[0]!;
    if (!(total > 0)) return null;
    return { logIntegral: this.largest + Math.log(total * step), moments: this.#sums.map((sum) => sum / total), top };
  }
}

const MOST_STEPS = 100;

/** The best log scale at a log shape, near enough for a grid: the density is log-concave there. */
function bestAlong(slice: EffectSlice, start: number): { u: number; value: number; second: number } | null {
  let u = start;
  const bracket = { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };
  for (let step = 0; step < MOST_STEPS; step++) {
    const { value, first, second } = slice.at(u);
    if (first > 0) bracket.from = u;
    else bracket.to = u;
    const newton = -first / second;
    const deviation = 1 / Math.sqrt(-second);
    if (Math.abs(newton) < 0.03 * deviation && Number.isFinite(value)) return { u, value, second };
    u = insideBracket(u, newton, bracket);
    if (!Number.isFinite(u)) return null;
  }
  return null;
}

/** Newton's place where it is in the bracket; else its middle, or outwards by doubling. */
function insideBracket(u: number, newton: number, { from, to }: { from: number; to: number }): number {
  const next = u + newton;
  if (Number.isFinite(newton) && next > from && next < to) return next;
  if (Number.isFinite(from) && Number.isFinite(to)) return (from + to) / 2;
  return from === u ? u + 1 + Math.abs(u) : u - 1 - Math.abs(u);
}

/** Top of the ridge of best log scales over log shape: Newton steps that must rise. */
function topOf(density: EffectDensity, start: number): { u: number; v: number; deviation: number } | null {
  let at = ridgePoint(density, start, density.lives.typicalLog);
  if (at === null) return null;
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const { first, second } = density.ridge(at.u, at.v);
    const deviation = second < 0 ? 1 / Math.sqrt(-second) : LONGEST_STEP;
    const newton = second < 0 ? -first / second : Math.sign(first);
    if (!(Math.abs(newton) > 0.1 * deviation)) return { ...at, deviation };
    const next = risen(density, at, Math.max(-1, Math.min(1, newton)));
    if (next === null) return { ...at, deviation };
    at = next;
  }
  return null;
}

type RidgePoint = { u: number; v: number; value: number };

function ridgePoint(density: EffectDensity, v: number, start: number): RidgePoint | null {
  const best = bestAlong(density.slice(v), start);
  return best === null ? null : { u: best.u, v, value: best.value };
}

function risen(density: EffectDensity, at: RidgePoint, step: number): RidgePoint | null {
  for (let part = 1; part > 1e-4; part /= 2) {
    const next = ridgePoint(density, at.v + part * step, at.u);
    if (next !== null && next.value > at.value) return next;
  }
  return null;
}
