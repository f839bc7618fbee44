import { checkedLives } from "../check-lives.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { greatestHazards, type HazardBlock } from "./hazard-block.ts";
import { curveStart } from "./risk-table.ts";
import { type Atoms, turnbullAtoms } from "./turnbull-atoms.ts";

/** An interval in which survival falls, somewhere above `low` and up to `high`; at the age itself where they are equal. */
export type SurvivalDrop = {
  low: number;
  high: number;
  /** Fraction that fails in it. */
  mass: number;
  /** Fraction unfailed before it: up to `low` the survival itself, within the interval its upper edge. */
  before: number;
  /** Fraction unfailed after it: from `high` on the survival itself, within the interval its lower edge. */
  after: number;
};

/** A survival curve of greatest likelihood, or why there is none. What `drops` leave is not seen to fail. */
export type Turnbull =
  | { converged: true; drops: SurvivalDrop[]; logLikelihood: number; iterations: number }
  | { converged: false; reason: string };

/** Share of the lives concerned by which the slope of the log-likelihood may be off in an answer. */
const TOLERATED = 1e-7;

/**
 * Survival of greatest likelihood without a model, for exact, right-, left- and interval-censored lives, with late entry and counts.
 * Within each interval where it falls the data do not say where. For exact and right-censored lives it is Kaplan-Meier's.
 * A life that failed within an interval failed above its low end (from 0 on where that is 0) and up to its high end.
 * @param lives - the lives, all ages in one unit
 * @param options - `minimumAtRisk`: under late entry, lives surely at risk with which the curve starts; 1 where not given
 * @returns converged only where the Kuhn-Tucker conditions hold, which no other likelihood then exceeds
 * @throws RangeError for columns that are not lives, or a late entry that is not before the end or lies within the interval
 * @see B. W. Turnbull, J. Royal Statistical Society B 38 (1976) 290-295
 * @example turnbull({ low: Float64Array.of(0, 4, 6), high: Float64Array.of(5, 9, Infinity) });
 */
export function turnbull(
  lives: Lives | IntervalLives,
  { minimumAtRisk = 1 }: { minimumAtRisk?: number } = {},
): Turnbull {
  const intervals = checkedLives(lives);
  const atoms = turnbullAtoms(intervals);
  const start = curveStart(surelySeen(intervals), minimumAtRisk);
  const factors = new Float64Array(atoms.low.length).fill(1);
  let logLikelihood = 0;
  let iterations = 0;
  for (const { block, at } of blocksOf(withoutCertain(atoms))) {
    const found = factorsOf(block);
    if (found.off > TOLERATED) {
      return { converged: false, reason: "the search for the survival of greatest likelihood did not settle" };
    }
    factors.set(found.factors, at);
    logLikelihood += found.logLikelihood;
    iterations += found.iterations;
  }
  return { converged: true, drops: dropsOf(atoms, factors, start), logLikelihood, iterations };
}

/** Lives by when they are surely at risk: a life that failed within an interval, only up to the low end of it. */
function surelySeen({ low, high, entry, count }: IntervalLives): Lives {
  const rows = Uint32Array.from(low.keys()).filter((life) => !entry || entry[life] === 0 || entry[life]! < low[life]!);
  return {
    time: Float64Array.from(rows, (life) => low[life]!),
    failed: Uint8Array.from(rows, (life) => (low[life] === high[life] ? 1 : 0)),
    ...(entry && { entry: Float64Array.from(rows, (life) => entry[life]!) }),
    ...(count && { count: Float64Array.from(rows, (life) => count[life]!) }),
  };
}

/**
 * An interval that some may fail in and no life lasts through leaves none unfailed: the lives that may have failed there are taken
 * as failed there, and then tell nothing of the other intervals.
 */
function withoutCertain({ first, end, count, ...atoms }: Atoms): Atoms {
  const failed = atoms.failed.slice();
  const certain = atoms.through.map((through) => (through === 0 ? 1 : 0));
  const upTo = new Uint32Array(certain.length + 1);
  for (let atom = 0; atom < certain.length; atom++) upTo[atom + 1] = upTo[atom]! + certain[atom]!;
  const kept = Uint32Array.from(first.keys()).filter((set) => {
    if (upTo[end[set]!] === upTo[first[set]!]) return true;
    failed[certain.indexOf(1, first[set]!)]! += count[set]!;
    return false;
  });
  return {
    ...atoms,
    failed,
    first: Uint32Array.from(kept, (set) => first[set]!),
    end: Uint32Array.from(kept, (set) => end[set]!),
    count: Float64Array.from(kept, (set) => count[set]!),
  };
}

/** Runs of intervals that sets of lives tie together, and the number of the first; an interval of no set is a run by itself. */
function* blocksOf({ through, failed, first, end, count }: Atoms): Generator<{ block: HazardBlock; at: number }> {
  let set = 0;
  for (let at = 0, to = 0; at < through.length; at = to) {
    const sets = set;
    to = at + 1;
    for (; set < first.length && first[set]! < to; set++) to = Math.max(to, end[set]!);
    const block = {
      through: through.slice(at, to),
      failed: failed.slice(at, to),
      first: first.slice(sets, set).map((one) => one - at),
      end: end.slice(sets, set).map((one) => one - at),
      count: count.slice(sets, set),
    };
    yield { block, at };
  }
}

type BlockFactors = { factors: Float64Array; logLikelihood: number; off: number; iterations: number };

/** Fractions of those at risk that last through each interval. */
function factorsOf(block: HazardBlock): BlockFactors {
  const [through, failed] = [block.through[0]!, block.failed[0]!];
  if (block.through.length > 1) {
    const { hazard, logLikelihood, off, iterations } = greatestHazards(block);
    return { factors: hazard.map((one) => Math.exp(-one)), logLikelihood, off, iterations };
  }
  const all = through + failed;
  const factors = Float64Array.of(all > 0 ? through / all : 1);
  return { factors, logLikelihood: timesLog(failed, all) + timesLog(through, all), off: 0, iterations: 0 };
}

function timesLog(part: number, all: number): number {
  return part > 0 ? part * Math.log(part / all) : 0;
}

function dropsOf({ low, high }: Atoms, factors: Float64Array, start: number | null): SurvivalDrop[] {
  const drops: SurvivalDrop[] = [];
  let before = 1;
  for (let atom = 0; atom < low.length; atom++) {
    if (start === null || (start > 0 && high[atom]! <= start) || factors[atom] === 1) continue;
    const after = before * factors[atom]!;
    drops.push({ low: low[atom]!, high: high[atom]!, mass: before - after, before, after });
    before = after;
  }
  return drops;
}
