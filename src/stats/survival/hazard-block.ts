/** Neighbouring intervals that lives failing in one of several tie together; the log-likelihood is the sum over such blocks. */
export type HazardBlock = {
  /** Per interval: lives that last through it, lives that fail in it for certain. */
  through: Float64Array;
  failed: Float64Array;
  /** Lives that fail in one of several: the first, the one after the last, and how many such lives there are. */
  first: Uint32Array;
  end: Uint32Array;
  count: Float64Array;
};

/** Cumulative hazards of greatest likelihood, and how far they are from satisfying its conditions, as a share of the lives concerned. */
export type BlockHazards = { hazard: Float64Array; logLikelihood: number; off: number; iterations: number };

/** Share of the lives at an interval by which the slope of the log-likelihood may be off. */
const SETTLED = 1e-12;
const MOST_STEPS = 500;
/** Steps without a better likelihood or slope, after which rounding is all that is left. */
const IDLE_STEPS = 3;

/**
 * Greatest likelihood over the cumulative hazards x >= 0 of the intervals of a block. Life by life it is the sum of -x over what the
 * life lasts through, plus log(1 - exp(-(sum of x))) over what it may have failed in: concave, so that there is one greatest value
 * and the Kuhn-Tucker conditions (slope 0 where x > 0, at most 0 where x = 0) tell it. Newton steps by conjugate gradients on
 * the intervals that are free to move, cut off at 0 and halved until the likelihood rises, keep to the conditions from any start.
 * @param block - with at least one life lasting through each interval
 * @see D. P. Bertsekas, SIAM J. Control and Optimization 20 (1982) 221-246 (two-metric projection)
 */
export function greatestHazards(block: HazardBlock): BlockHazards {
  const lives = livesAt(block);
  const start = startOf(block, lives);
  // The curvature of the likelihood were it known of each life in which interval it failed.
  const known = lives.map((count, at) => count / start[at]!);
  let at = valueAt(block, start);
  let best = { hazard: at.x, logLikelihood: at.value, off: offBy(at, lives) };
  let off = best.off;
  let idle = 0;
  let iterations = 0;
  while (best.off > SETTLED && idle < IDLE_STEPS && iterations < MOST_STEPS) {
    iterations++;
    const next = climb(block, at, newtonStep(block, at, { off, known }));
    if (next === null) break;
    off = offBy(next, lives);
    const better = off < best.off || next.value > at.value + 1e-14 * Math.abs(at.value);
    idle = better ? 0 : idle + 1;
    at = next;
    if (off < best.off) best = { hazard: at.x, logLikelihood: at.value, off };
  }
  return { ...best, iterations };
}

/** The log-likelihood at x, its slopes, and what its second derivatives are made of: by interval alone, and by set of lives. */
type Point = { x: Float64Array; value: number; slope: Float64Array; own: Float64Array; tied: Float64Array };

function valueAt(block: HazardBlock, x: Float64Array): Point {
  const { through, failed, first, end, count } = block;
  const slope = new Float64Array(x.length);
  const own = new Float64Array(x.length);
  const tied = new Float64Array(count.length);
  let value = 0;
  for (let at = 0; at < x.length; at++) {
    value -= through[at]! * x[at]!;
    slope[at] = -through[at]!;
    if (failed[at] === 0) continue;
    const odds = Math.expm1(x[at]!);
    value += failed[at]! * Math.log(-Math.expm1(-x[at]!));
    slope[at]! += failed[at]! / odds;
    own[at] = (failed[at]! * (1 + odds)) / odds ** 2;
  }
  const sums = running(x);
  const pull = new Float64Array(count.length);
  for (let set = 0; set < count.length; set++) {
    const sum = sums[end[set]!]! - sums[first[set]!]!;
    const odds = Math.expm1(sum);
    value += count[set]! * Math.log(-Math.expm1(-sum));
    pull[set] = count[set]! / odds;
    tied[set] = (count[set]! * (1 + odds)) / odds ** 2;
  }
  spread(block, pull, slope);
  return { x, value, slope, own, tied };
}

/** Sums of the values before each. */
function running(values: Float64Array): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let at = 0; at < values.length; at++) sums[at + 1] = sums[at]! + values[at]!;
  return sums;
}

/** Adds to each interval the amounts of the sets that hold it. */
function spread({ first, end }: HazardBlock, amounts: Float64Array, to: Float64Array): void {
  const change = new Float64Array(to.length + 1);
  for (let set = 0; set < amounts.length; set++) {
    change[first[set]!]! += amounts[set]!;
    change[end[set]!]! -= amounts[set]!;
  }
  let sum = 0;
  for (let at = 0; at < to.length; at++) {
    sum += change[at]!;
    to[at]! += sum;
  }
}

function livesAt(block: HazardBlock): Float64Array {
  const lives = block.through.map((through, at) => through + block.failed[at]!);
  spread(block, block.count, lives);
  return lives;
}

/** Lives that fail in one of several taken to fail in equal parts in each. */
function startOf(block: HazardBlock, lives: Float64Array): Float64Array {
  const failed = block.failed.slice();
  const parts = block.count.map((count, set) => count / (block.end[set]! - block.first[set]!));
  spread(block, parts, failed);
  return failed.map((failures, at) => -Math.log1p(-failures / (lives[at]! + failures)));
}

function offBy({ x, slope }: Point, lives: Float64Array): number {
  let off = 0;
  for (let at = 0; at < x.length; at++) {
    const wrong = x[at]! > 0 ? Math.abs(slope[at]!) : Math.max(0, slope[at]!);
    off = Math.max(off, wrong / lives[at]!);
  }
  return Number.isNaN(off) ? Number.POSITIVE_INFINITY : off;
}

/** Hazards this small that fall are taken for 0. */
const NEAR_0 = 1e-9;

/** Share of the curvature of lives known in full that is added at first; from 0.001 to 1 all settle, near 0.03 soonest. */
const ADDED = 0.03;

/** A system of equations: minus the second derivatives, to which `extra` is added by interval, over the intervals that are free. */
type System = { at: Point; extra: Float64Array; free: Float64Array };

/**
 * Where lives don't tell intervals apart the likelihood does not bend, and a Newton step would have no bounds: a share of the
 * curvature of lives known in full is added, which fades as the conditions come to hold.
 */
function newtonStep(block: HazardBlock, at: Point, { off, known }: { off: number; known: Float64Array }): Float64Array {
  const extra = known.map((curvature) => curvature * ADDED * Math.min(1, off));
  const free = at.x.map((hazard, one) => (hazard > NEAR_0 || at.slope[one]! > 0 ? 1 : 0));
  const curvature = at.own.map((own, one) => own + extra[one]!);
  spread(block, at.tied, curvature);
  const step = conjugateGradients(block, { at, extra, free }, curvature, Math.min(1e-2, off));
  for (let one = 0; one < step.length; one++) if (free[one] === 0) step[one] = at.slope[one]! / curvature[one]!;
  return step;
}

/** Solves a system for the slopes, to a share of their size, starting from its diagonal. */
function conjugateGradients(block: HazardBlock, system: System, diagonal: Float64Array, share: number): Float64Array {
  const { at, free } = system;
  const step = new Float64Array(free.length);
  const rest = at.slope.map((slope, one) => slope * free[one]!);
  let scaled = rest.map((value, one) => value / diagonal[one]!);
  const direction = scaled.slice();
  let size = dot(rest, scaled);
  const enough = size * Math.max(1e-20, share);
  for (let turn = 0; turn < 2 * free.length + 20 && size > enough; turn++) {
    const bent = bend(block, system, direction);
    const along = dot(direction, bent);
    if (!(along > 0)) break;
    for (let one = 0; one < step.length; one++) {
      step[one]! += (size / along) * direction[one]!;
      rest[one]! -= (size / along) * bent[one]!;
    }
    scaled = rest.map((value, one) => value / diagonal[one]!);
    const next = dot(rest, scaled);
    for (let one = 0; one < step.length; one++) direction[one] = scaled[one]! + (next / size) * direction[one]!;
    size = next;
  }
  return step;
}

function bend(block: HazardBlock, { at: { own, tied }, extra, free }: System, direction: Float64Array): Float64Array {
  const sums = running(direction);
  const bent = direction.map((value, one) => value * (own[one]! + extra[one]!));
  spread(
    block,
    tied.map((weight, set) => weight * (sums[block.end[set]!]! - sums[block.first[set]!]!)),
    bent,
  );
  return bent.map((value, one) => value * free[one]!);
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < one.length; at++) sum += one[at]! * other[at]!;
  return sum;
}

/** The step, halved until the likelihood rises by a due share of what the slopes promise; null where it can't be made to. */
function climb(block: HazardBlock, at: Point, step: Float64Array): Point | null {
  for (let share = 1; share > 1e-12; share /= 2) {
    const next = valueAt(
      block,
      at.x.map((hazard, one) => Math.max(0, hazard + share * step[one]!)),
    );
    const promised = next.x.reduce((sum, hazard, one) => sum + at.slope[one]! * (hazard - at.x[one]!), 0);
    const rounding = 1e-13 * Math.abs(at.value);
    if (next.value >= at.value + 1e-4 * promised - rounding && next.value > Number.NEGATIVE_INFINITY) return next;
  }
  return null;
}
