import type { Stream } from "../random/stream.ts";
import { expByTable } from "../table-exp.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import type { HazardSums, LevelAndShape } from "../weibull/log-likelihood.ts";
import { addPowers, type LivesBySeries, ORDER, sumsAround, type WideSeries } from "../weibull/wide-series.ts";
import { ColumnRoom } from "./column-room.ts";
import type { Point } from "./constraint.ts";
import { drawnEnd, MOST } from "./redraw.ts";
import { DRAWN_END, type RedrawPlan, WITHOUT_END } from "./redraw-plan.ts";
import { levelAndShape } from "./weibull-surface.ts";

/**
 * Draws sets of Weibull lives as the lives of a plan were watched: the same numbers as `redrawer` draws, without the steps between. Of the sums
 * only what is drawn is added up: the lives that fail, and the removals by which a set differs from one in which none does. For plans in
 * which failures show at once and nothing stops the watching of all.
 * @param typicalLog - about which ages are taken
 */
export function weibullRedrawer(plan: RedrawPlan, at: Point, typicalLog: number): (stream: Stream) => DrawnLives {
  const { level, shape } = levelAndShape(at, typicalLog);
  const fate = fates(plan, (age) => shape * (Math.log(age) - at.a));
  const least = plan.entry.map((age) => Math.log(age) - typicalLog);
  const common: Common = { plan, typicalLog, drawnFrom: { level, shape }, unfailed: new Map(), room: new ColumnRoom() };
  return (stream) => {
    const { failed, drawn } = fate.draw(stream);
    const fated = common.room.take(2 * failed + drawn);
    for (let one = 0; one < failed; one++) {
      const life = fate.life[one]!;
      const hazard = -Math.log1p(-Math.min(fate.fraction[one]!, MOST));
      fated[one] = Math.max((Math.log(hazard) - level) / shape, least[life]!);
      fated[failed + one] = life;
    }
    for (let one = 0; one < drawn; one++) fated[2 * failed + one] = fate.drawnEnd[one]!;
    return new DrawnLives(common, fated, failed);
  };
}

/** What all sets of a plan share. */
type Common = {
  plan: RedrawPlan;
  typicalLog: number;
  drawnFrom: LevelAndShape;
  unfailed: Map<number, Unfailed>;
  room: ColumnRoom;
};

/** Factor from a shape to the next about which a series is taken: half of it, 12 %, is within reach of nearly all sets. */
const LOG_SPACING = Math.log(1.25);
/** Shapes beyond this are left to sums term by term. */
const LARGEST = 1e3;

/** A set of lives, by what the Weibull kernels need of it. A thousand of them are kept: hence few objects. */
export class DrawnLives implements LivesBySeries {
  readonly typicalLog: number;
  readonly exact: number;
  readonly exactSum: number;
  /** Standard deviation of the log ages at failure. */
  readonly spread: number;
  readonly #common: Common;
  /** Log ages at failure about the typical one, then which lives failed, then the ends of those removed whose end was drawn. */
  readonly #fated: Float64Array;
  readonly #series: WideSeries[] = [];

  constructor(common: Common, fated: Float64Array, failed: number) {
    this.#common = common;
    this.#fated = fated;
    this.typicalLog = common.typicalLog;
    this.exact = failed;
    let sum = 0;
    for (let one = 0; one < failed; one++) sum += fated[one]!;
    let squares = 0;
    for (let one = 0; one < failed; one++) squares += (fated[one]! - sum / failed) ** 2;
    this.exactSum = sum;
    this.spread = Math.sqrt(squares / failed);
  }

  /** By the series that are there, else by one about a shape near. */
  sumsAt(level: number, shape: number, out: HazardSums): boolean {
    for (const series of this.#series) if (sumsAround(series, level, shape, out)) return true;
    const { drawnFrom } = this.#common;
    const number = Math.round(Math.log(shape / drawnFrom.shape) / LOG_SPACING);
    const about = drawnFrom.shape * Math.exp(number * LOG_SPACING);
    if (!(about > 0 && about < LARGEST) || this.#series.some(({ at }) => at.shape === about)) return false;
    const series = this.#seriesAbout({ level: drawnFrom.level, shape: about });
    this.#series.push(series);
    return sumsAround(series, level, shape, out);
  }

  #seriesAbout(at: LevelAndShape): WideSeries {
    const { plan, typicalLog, room, unfailed } = this.#common;
    const base = unfailed.get(at.shape) ?? sumsUnfailed(plan, at, typicalLog);
    unfailed.set(at.shape, base);
    const sums = room.take(ORDER + 1);
    sums.set(base.sums);
    for (let one = 0; one < this.exact; one++) {
      const z = this.#fated[one]!;
      addPowers(sums, z, expByTable(at.level + at.shape * z));
      const end = plan.end[this.#fated[this.exact + one]!]!;
      if (end >= 0) addRow(sums, base.table, end, -1);
    }
    for (let one = 2 * this.exact; one < this.#fated.length; one++) addRow(sums, base.table, this.#fated[one]!, 1);
    return { at: base.at, sums, magnitude: sums[ORDER]! + 2 * base.enteredLast };
  }

  /** Term by term, for what lies beyond the series. */
  gathered(): GatheredLives {
    const { plan, typicalLog } = this.#common;
    const { exact, exactSum, spread } = this;
    const entered = plan.entry.filter((age) => age > 0);
    const size = exact + plan.ends.length + entered.length;
    const place = (age: number) => Math.log(age) - typicalLog;
    const z = new Float64Array(size);
    z.set(this.#fated.subarray(0, exact));
    z.set(plan.ends.map(place), exact);
    z.set(entered.map(place), exact + plan.ends.length);
    const weight = new Float64Array(size).fill(1, 0, exact);
    this.#countRemovals(weight.subarray(exact));
    weight.fill(-1, exact + plan.ends.length);
    return { typicalLog, spread, failures: exact, exact, exactSum, z, weight, ...NO_INTERVALS };
  }

  #countRemovals(at: Float64Array): void {
    const { plan } = this.#common;
    for (const end of plan.end) if (end >= 0) at[end]!++;
    for (const life of this.#fated.subarray(this.exact, 2 * this.exact))
      if (plan.end[life]! >= 0) at[plan.end[life]!]!--;
    for (const end of this.#fated.subarray(2 * this.exact)) at[end]!++;
  }
}

const NONE = new Float64Array(0);
const NO_INTERVALS = { lowZ: NONE, highZ: NONE, width: NONE, intervalCount: NONE };

function addRow(sums: Float64Array, table: Float64Array, row: number, times: 1 | -1): void {
  for (let k = 0, from = row * (ORDER + 1); k <= ORDER; k++, from++) sums[k]! += times * table[from]!;
}

/** Draws which lives fail, at which fraction failed by then, and at which end those are removed that do not fail and whose end is drawn. */
function fates(plan: RedrawPlan, logHazard: (age: number) => number) {
  const { ends } = plan;
  const last = ends.length;
  const ending = plan.end.map((end) => (end === WITHOUT_END ? last : end));
  const failedBy = (age: number) => -Math.expm1(-Math.exp(logHazard(age)));
  const byEnd = Float64Array.from([...ends.map(failedBy), Number.POSITIVE_INFINITY]);
  const byEntry = plan.entry.map(failedBy);
  const fraction = new Float64Array(ending.length + 1);
  const life = new Int32Array(ending.length + 1);
  const drawnEnds = new Int32Array(ending.length + 1);
  const draw = (stream: Stream): { failed: number; drawn: number } => {
    let failed = 0;
    let drawn = 0;
    for (let one = 0; one < ending.length; one++) {
      let end = ending[one]!;
      const isDrawn = end === DRAWN_END;
      if (isDrawn) {
        end = drawnEnd(plan, one, stream);
        if (end === WITHOUT_END) end = last;
        drawnEnds[drawn] = end;
      }
      const before = byEntry[one]!;
      fraction[failed] = before + (1 - stream.uniform()) * (1 - before);
      life[failed] = one;
      // Counted, not branched upon: which it will be no processor can foresee.
      const removed = Number(fraction[failed]! > byEnd[end]!) | 0;
      drawn += Number(isDrawn) & removed;
      failed += 1 - removed;
    }
    return { failed, drawn };
  };
  return { fraction, life, drawnEnd: drawnEnds, draw };
}

/** The hazard sums of a set in which no life fails and none has an end that is drawn, and what a removal at each end adds. */
type Unfailed = { at: LevelAndShape; sums: Float64Array; enteredLast: number; table: Float64Array };

function sumsUnfailed({ ends, end, entry }: RedrawPlan, at: LevelAndShape, typicalLog: number): Unfailed {
  const table = new Float64Array(ends.length * (ORDER + 1));
  const addAge = (sums: Float64Array, age: number, times: 1 | -1) => {
    const z = Math.log(age) - typicalLog;
    return addPowers(sums, z, times * Math.exp(at.level + at.shape * z));
  };
  for (const [row, age] of ends.entries()) addAge(table.subarray(row * (ORDER + 1)), age, 1);
  const sums = new Float64Array(ORDER + 1);
  for (const place of end) if (place >= 0) addRow(sums, table, place, 1);
  let enteredLast = 0;
  for (const age of entry) if (age > 0) enteredLast -= addAge(sums, age, -1);
  return { at, sums, enteredLast, table };
}
