import { emptyTerms, type Family } from "../distribution/family.ts";
import type { Stream } from "../random/stream.ts";
import type { Point } from "./constraint.ts";
import type { LogTerms } from "./log-terms.ts";
import { DRAWN_END, firstFrom, type RedrawPlan, WITHOUT_END } from "./redraw-plan.ts";

/** Draws sets of lives from a distribution as the lives of a plan were watched. */
export function redrawer(plan: RedrawPlan, family: Family, at: Point): (stream: Stream) => LogTerms {
  return plan.stopsAt === null ? asWatched(plan, family, at) : upToFailures(plan.stopsAt, plan.end.length, family, at);
}

/** A test of `size` lives that ends with the failure number `stopsAt`. */
function upToFailures(stopsAt: number, size: number, family: Family, { a, e }: Point): (stream: Stream) => LogTerms {
  const drawn = new Float64Array(size);
  return (stream) => {
    for (let life = 0; life < size; life++)
      drawn[life] = a + family.quantile(Math.min(1 - stream.uniform(), MOST), e).value;
    drawn.sort();
    return {
      exact: { log: drawn.slice(0, stopsAt), count: new Float64Array(stopsAt).fill(1) },
      removed: { log: drawn.slice(stopsAt - 1, stopsAt), count: Float64Array.of(size - stopsAt) },
      entered: NONE,
      within: { low: NO_AGES, high: NO_AGES, count: NO_AGES },
    };
  };
}

const NO_AGES = new Float64Array(0);
const NONE = { log: NO_AGES, count: NO_AGES };

function asWatched(plan: RedrawPlan, family: Family, { a, e }: Point): (stream: Stream) => LogTerms {
  const byEnd = plan.ends.map((age) => fractionFailed(family, Math.log(age) - a, e));
  const byEntry = plan.entry.map((age) => fractionFailed(family, Math.log(age) - a, e));
  const logs = { ends: plan.ends.map(Math.log), grid: plan.grid.map(Math.log), entry: plan.entry.map(Math.log) };
  const entered = entries(plan);
  const failures = new Float64Array(plan.end.length);
  return (stream) => {
    const removals = new Float64Array(plan.ends.length);
    const within = new Looks(logs.grid);
    let failed = 0;
    const fails = (log: number, life: number, end: number) => {
      if (plan.grid.length === 0) failures[failed++] = log;
      else within.look(log, end === WITHOUT_END ? Number.POSITIVE_INFINITY : logs.ends[end]!, logs.entry[life]!);
    };
    for (let life = 0; life < plan.end.length; life++) {
      const end = plan.end[life] === DRAWN_END ? drawnEnd(plan, life, stream) : plan.end[life]!;
      const before = byEntry[life]!;
      const fraction = before + (1 - stream.uniform()) * (1 - before);
      if (end !== WITHOUT_END && fraction > byEnd[end]!) removals[end]!++;
      else fails(Math.max(a + family.quantile(Math.min(fraction, MOST), e).value, logs.entry[life]!), life, end);
    }
    return {
      exact: { log: failures.slice(0, failed), count: new Float64Array(failed).fill(1) },
      removed: used(logs.ends, removals, within),
      entered,
      within: within.terms(),
    };
  };
}

/** A life is drawn to an age, never to none. */
export const MOST = 1 - Number.EPSILON / 2;

const out = emptyTerms();

function fractionFailed(family: Family, w: number, e: number): number {
  if (w === Number.NEGATIVE_INFINITY) return 0;
  family.logFailed(w, e, out);
  return Math.exp(out.value);
}

function entries({ entry }: RedrawPlan): LogTerms["entered"] {
  const late = entry.filter((age) => age > 0);
  return { log: late.map(Math.log), count: new Float64Array(late.length).fill(1) };
}

/** Where the follow-up of a life ends whose end is drawn: the place in `ends`, or WITHOUT_END. */
export function drawnEnd(plan: RedrawPlan, life: number, stream: Stream): number {
  const { goesOn } = plan;
  const known = plan.known[life]!;
  const least = Math.ceil(known) - 1;
  const drawn = goesOn.firstBelow(least + (known - least) * (1 - stream.uniform()));
  return drawn === goesOn.values.length ? WITHOUT_END : drawn;
}

/** Failures that are found at the first look after them. */
class Looks {
  readonly #grid: Float64Array;
  readonly #low: number[] = [];
  readonly #high: number[] = [];
  /** Failures after the last look, which no one sees. */
  unfound = 0;

  constructor(grid: Float64Array) {
    this.#grid = grid;
  }

  /**
   * @param end - log of the age at which follow-up ends, when is looked as well
   * @param entry - and of the one at which it begins, when the life is known unfailed
   */
  look(log: number, end: number, entry: number): void {
    const place = firstFrom(this.#grid, log);
    const high = Math.min(this.#grid[place] ?? Number.POSITIVE_INFINITY, end);
    if (high === Number.POSITIVE_INFINITY) {
      this.unfound++;
      return;
    }
    this.#low.push(Math.max(this.#grid[place - 1] ?? Number.NEGATIVE_INFINITY, entry));
    this.#high.push(high);
  }

  last(): number {
    return this.#grid.at(-1)!;
  }

  terms(): LogTerms["within"] {
    const count = new Float64Array(this.#low.length).fill(1);
    return { low: Float64Array.from(this.#low), high: Float64Array.from(this.#high), count };
  }
}

/** Those not found to have failed are unfailed at the last look. */
function used(ends: Float64Array, removals: Float64Array, within: Looks): LogTerms["removed"] {
  const log = new Float64Array(ends.length + 1);
  const count = new Float64Array(ends.length + 1);
  let size = 0;
  for (let end = 0; end < ends.length; end++) {
    if (removals[end] === 0) continue;
    log[size] = ends[end]!;
    count[size++] = removals[end]!;
  }
  if (within.unfound > 0) {
    log[size] = within.last();
    count[size++] = within.unfound;
  }
  return { log: log.subarray(0, size), count: count.subarray(0, size) };
}
