import { checkedLives } from "../check-lives.ts";
import { clusterRows } from "../cluster-rows.ts";
import { jackknifeSpread } from "../jackknife-spread.ts";
import { checkedLevel } from "../level.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import { studentQuantile } from "../student-quantile.ts";
import type { Point } from "./constraint.ts";
import { type ConvergedFit, pointOf } from "./fit.ts";
import { intervalAround } from "./interval-around.ts";
import { lifeTerms } from "./life-terms.ts";
import { maximise } from "./maximise.ts";
import { nearSurface } from "./near-surface.ts";
import { fromWorkingScale, type Interval, type Quantity, workingValue } from "./quantity.ts";
import type { Slopes } from "./slopes.ts";
import type { Surface } from "./surface.ts";
import { termsSurface } from "./terms-surface.ts";
import { topsBySeries } from "./tops-by-series.ts";
import { isSmall, newtonStep, steepnessOf } from "./uphill-step.ts";
import { levelAndShape } from "./weibull-surface.ts";
import { workingEstimate } from "./working-estimate.ts";

/** The fits that each lack one cluster. */
export type Jackknife = { without: Point[] };

/**
 * Refits without each cluster (unit) in turn; over 200 clusters are put together in 200 by the seed. Clusters need not be alike inside,
 * which a likelihood takes them to be.
 * @param lives - the lives of the fit
 * @param cluster - a number of 0 or more for each row of the lives
 * @param surface - their likelihood
 * @param fit - its maximum
 * @param seed - any whole number
 * @returns why there are none where the lives left can't be fitted
 * @throws RangeError for columns that are not lives, or a cluster column of another length
 * @see Efron & Tibshirani, An Introduction to the Bootstrap, ch. 11; Lipsitz, Dear & Zhao, Biometrics 50 (1994) 842-846 (clustered lives)
 * @example jackknife(lives, Int32Array.of(0, 0, 1, 2), surface, fit, 1);
 */
export function jackknife(
  lives: Lives | IntervalLives,
  cluster: Int32Array,
  surface: Surface,
  fit: ConvergedFit,
  seed: number,
): Jackknife | { reason: string } {
  const columns = checkedLives(lives);
  if (cluster.length !== columns.low.length) {
    throw new RangeError(`Cannot leave out clusters: ${cluster.length} clusters for ${columns.low.length} rows`);
  }
  const groups = clusterRows(cluster, seed);
  if (groups.length < 2) return { reason: "all lives are of one unit" };
  const least = surface.family.fitsShape ? 2 : 1;
  const top = topFinder(columns, surface, fit);
  const without: Point[] = [];
  for (const rows of groups) {
    if (surface.failures - failuresOf(columns, rows) < least) return { reason: TOO_FEW[least] };
    const found = top(rows);
    if (found === null) return { reason: "without one unit the lives left can't be fitted" };
    without.push(found);
  }
  return { without };
}

/** Finds the top without some rows of the lives; null where there is none. */
function topFinder(columns: IntervalLives, surface: Surface, fit: ConvergedFit): (rows: number[]) => Point | null {
  const { gathered, family, typicalLog } = surface;
  const generally = generalTops(columns, surface, fit);
  if (family.name !== "weibull" || gathered === undefined || gathered.highZ.length > 0) return generally;
  const quickly = topsBySeries(columns, gathered, levelAndShape(pointOf(fit), typicalLog));
  return (rows) => quickly(rows) ?? generally(rows);
}

function generalTops(columns: IntervalLives, surface: Surface, fit: ConvergedFit): (rows: number[]) => Point | null {
  const start = pointOf(fit);
  let all: Surface | undefined;
  return (rows) => {
    // Without one unit the top lies close by: the lives are passed over once, not once for each unit.
    all ??= nearSurface(surface, fit);
    const whole = all.at(start.a, start.e);
    const own = termsSurface(lifeTerms(picked(columns, rows)), surface.family, surface.typicalLog);
    const rest = lessPart(all, own);
    const near = nearbyTop(rest, start, less(whole, own.at(start.a, start.e)));
    if (near !== null) return near;
    const maximum = maximise(rest, start);
    return maximum.found ? maximum.at : null;
  };
}

function failuresOf({ high, count }: IntervalLives, rows: number[]): number {
  let failures = 0;
  for (const row of rows) if (high[row] !== Number.POSITIVE_INFINITY) failures += count?.[row] ?? 1;
  return failures;
}

const TOO_FEW = { 1: "without one unit no failure is left", 2: "without one unit fewer than two failures are left" };

function lessPart({ gathered: _, ...surface }: Surface, part: Surface): Surface {
  return {
    ...surface,
    at: (a, e) => less(surface.at(a, e), part.at(a, e)),
  };
}

function less(all: Slopes, own: Slopes): Slopes {
  return {
    value: all.value - own.value,
    a: all.a - own.a,
    e: all.e - own.e,
    aa: all.aa - own.aa,
    ae: all.ae - own.ae,
    ee: all.ee - own.ee,
  };
}

/** Steps that a top as near as that without one unit of many needs at most. */
const MOST_STEPS = 6;
/** In log shape, and in the place of a failure in its distribution: a step further than this does not lead to a top nearby. */
const NEAR = 0.25;

/** The top next to the start, by whole Newton steps, the last of which need not be looked at; null where it does not lie that near. */
function nearbyTop(surface: Surface, start: Point, slopes: Slopes): Point | null {
  let [at, likelihood] = [start, slopes];
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const steepness = steepnessOf(likelihood, surface);
    const step = newtonStep(likelihood, steepness, surface.family.fitsShape);
    if (!(Math.abs(step.a) * steepness < NEAR && Math.abs(step.e) < NEAR)) return null;
    at = { a: at.a + step.a, e: at.e + step.e };
    if (isSmall(step, steepness))
      return likelihood.aa < 0 && likelihood.aa * likelihood.ee >= likelihood.ae ** 2 ? at : null;
    likelihood = surface.at(at.a, at.e);
  }
  return null;
}

function picked({ low, high, entry, count }: IntervalLives, rows: number[]): IntervalLives {
  const pick = (column: Float64Array) => Float64Array.from(rows, (row) => column[row]!);
  return {
    low: pick(low),
    high: pick(high),
    ...(entry === undefined ? {} : { entry: pick(entry) }),
    ...(count === undefined ? {} : { count: pick(count) }),
  };
}

/**
 * Interval from the spread of the fits that each lack one cluster, on the log scale, log(-log S) for survivals: about the estimate less
 * its jackknife bias, by t with the degrees of freedom that a variance of so unequal terms has.
 * @param surface - the likelihood of all lives
 * @param fit - its maximum
 * @param quantity - what is asked for
 * @param level - confidence level, 0 < level < 1
 * @param fits - those that each lack one cluster, from `jackknife`
 * @returns estimate and limits, ages in the unit of the lives; where a mean is infinite without one cluster no limits, with the reason
 * @throws RangeError if the level or a number of the quantity lies outside its range
 * @see Efron & Tibshirani, An Introduction to the Bootstrap, ch. 10 and 11; F. E. Satterthwaite, Biometrics Bulletin 2 (1946) 110-114
 * @example jackknifeInterval(surface, fit, { kind: "quantile", p: 0.1 }, 0.95, found);
 */
export function jackknifeInterval(
  { family }: Surface,
  fit: ConvergedFit,
  quantity: Quantity,
  level: number,
  { without }: Jackknife,
): Interval {
  const { estimate } = workingEstimate(family, fit, quantity);
  const values = new Float64Array(without.length);
  for (let one = 0; one < values.length; one++) {
    const { a, e } = without[one]!;
    values[one] = workingValue(quantity, family, a, e);
  }
  if (values.includes(Number.POSITIVE_INFINITY)) {
    return { estimate: fromWorkingScale(quantity, estimate), low: null, high: null, reason: INFINITE };
  }
  const { mean, error, degrees } = jackknifeSpread(values);
  const reach = studentQuantile((1 + checkedLevel(level)) / 2, degrees) * error;
  const bias = (values.length - 1) * (mean - estimate);
  return intervalAround(quantity, estimate, reach + bias, reach - bias);
}

const INFINITE = "no limits: without one unit the mean is infinite";
