import { clusterRows } from "../cluster-rows.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import type { ConvergedAcceleratedLife } from "./accelerated-life.ts";
import { type Climb, climb } from "./climb.ts";
import type { ClusterRefits } from "./cluster-refits.ts";
import { type Covariate, checkCovariates } from "./covariates.ts";
import type { CrossSums, Slopes } from "./cross-sums.ts";
import { dependence } from "./dependence.ts";
import { type HazardSeries, hazardSeries } from "./hazard-series.ts";
import { inverseInformation } from "./inverse-information.ts";
import { type LeftOutTerms, leftOutTerms } from "./left-out-terms.ts";
import type { LifeLikelihood } from "./life-likelihood.ts";
import { type LifeModel, lifeModel, partOf } from "./life-model.ts";
import { fromTimeScale, toTimeScale } from "./life-time-scale.ts";
import { nearbyTop } from "./nearby-top.ts";
import { countsOf, rowsOf } from "./plain-lives.ts";
import { whyNoTop } from "./why-no-top.ts";

/**
 * Refits an accelerated-life regression without each cluster (unit) in turn, from the log-likelihood of all lives less that of the cluster;
 * over 200 clusters are put together in 200 by the seed.
 * @param lives - those of the fit
 * @param covariates - those of the fit
 * @param fit - a regression of greatest likelihood
 * @param cluster - a number for each row of the lives
 * @param seed - any whole number
 * @returns coefficients and, last, log sigma (none for the exponential), of the fit and of each refit; or why some lives left can't be fitted
 * @throws RangeError for columns that are not lives, or covariates or clusters of another length
 * @see Lipsitz, Dear & Zhao, Biometrics 50 (1994) 842-846; Efron & Tibshirani, An Introduction to the Bootstrap, ch. 11
 * @example refitWithoutClusters(lives, covariates, fit, unit, 1);
 */
export function refitWithoutClusters(
  lives: Lives | IntervalLives,
  covariates: readonly Covariate[],
  fit: ConvergedAcceleratedLife,
  cluster: Int32Array,
  seed: number,
): ClusterRefits | { reason: string } {
  const model = lifeModel(lives, covariates, fit.distribution);
  checkCovariates(covariates, rowsOf(model.lives));
  return refitsOf(model, fit)(cluster, seed);
}

/** The same of a model with its fit, by any clusters and seed: what does not depend on those is reckoned once. */
export function refitsOf(
  model: LifeModel,
  fit: ConvergedAcceleratedLife,
): (cluster: Int32Array, seed: number) => ClusterRefits | { reason: string } {
  const start = fromTimeScale(model.standard, { coefficients: fit.coefficients, logSigma: Math.log(fit.sigma) });
  let known: Full | undefined;
  return (cluster, seed) => {
    if (cluster.length !== rowsOf(model.lives)) {
      throw new RangeError(`Cannot leave out clusters: ${cluster.length} clusters for ${rowsOf(model.lives)} rows`);
    }
    const groups = clusterRows(cluster, seed);
    if (groups.length < 2) return { reason: "all lives are of one unit" };
    known ??= fullOf(model, start, groups.length);
    const without: Float64Array[] = [];
    for (const rows of groups) {
      const found = topWithout(model, known, rows);
      if ("reason" in found) return found;
      without.push(asVector(model, found));
    }
    return { full: asVector(model, start), without };
  };
}

/** A ten-millionth of a standard error, squared: refits lie about a tenth of one apart, which is what a jackknife looks at. */
const ENOUGH = 1e-14;
/** Numbers fitted, squared, for each cluster, up to which the third derivatives are had in less time than they save. */
const PAYS = 20;

/** The fit of all lives, its sums, and what these are nearby where a series tells. */
type Full = { start: Float64Array; whole: CrossSums; nearby: Nearby | null };
type Nearby = { series: HazardSeries; leftOut: (rows: readonly number[]) => LeftOutTerms };

function fullOf(model: LifeModel, start: Float64Array, groups: number): Full {
  const { rows, family, cells } = model;
  const whole = model.likelihood.at(start);
  const pays = cells !== null || start.length ** 2 < PAYS * groups;
  const series = pays ? hazardSeries(rows, family, start, whole, cells) : null;
  const leftOut = leftOutTerms(rows, family);
  return { start, whole, nearby: series === null || leftOut === null ? null : { series, leftOut } };
}

function topWithout(model: LifeModel, full: Full, rows: number[]): Float64Array | { reason: string } {
  const { fitsShape } = model.standard;
  const tooFew = (left: { failures: number }) => model.rows.failures - left.failures < (fitsShape ? 2 : 1);
  const left = full.nearby?.leftOut(rows);
  const near = left === undefined || tooFew(left) ? null : topBySeries(model, full, left);
  if (near !== null) return near;
  const part = partOf(model, rows);
  return tooFew(part.rows) ? { reason: TOO_FEW } : topByClimb(model, full, part, rows);
}

function topByClimb(
  model: LifeModel,
  { start, whole }: Full,
  part: LifeModel,
  rows: number[],
): Float64Array | { reason: string } {
  const { fitsShape } = model.standard;
  const rest = less(model.likelihood, part.likelihood);
  const sums = takenAway(whole, part.likelihood.at(start));
  const near = nearbyTop((theta) => rest.slopesAt(theta).slope, start, sums, fitsShape, { enough: ENOUGH });
  if (near !== null) return near;
  const top = climb(rest, start, fitsShape, sums);
  return top.found && inverseInformation(top.sums) !== null ? top.at : { reason: whyNot(model, rows, top) };
}

/** To where the series has its top the lives need not be gone through; from there it mostly takes one step. */
function topBySeries(model: LifeModel, { start, whole, nearby }: Full, left: LeftOutTerms): Float64Array | null {
  if (nearby === null) return null;
  const { likelihood, standard } = model;
  const { series } = nearby;
  const sums = { slope: minus(whole.slope, left.slopeAt(start)), bend: minus(whole.bend, left.bendAt(start)) };
  const slopeBySeries = (theta: Float64Array) => minus(series.slopeAt(theta), left.slopeAt(theta));
  const near = nearbyTop(slopeBySeries, start, sums, standard.fitsShape, { enough: ENOUGH });
  if (near === null) return null;
  const bend = minus(series.bendAt(near), left.bendAt(near));
  const last = squareOf(minus(near, start), bend);
  const slopeAt = (theta: Float64Array) => minus(likelihood.slopesAt(theta).slope, left.slopeAt(theta));
  return nearbyTop(slopeAt, near, { slope: slopeAt(near), bend }, standard.fitsShape, { enough: ENOUGH, last });
}

/** Of a way, in standard errors. */
function squareOf(way: Float64Array, bend: Float64Array): number {
  const size = way.length;
  let sum = 0;
  for (let one = 0; one < size; one++) {
    for (let other = 0; other < size; other++) sum -= bend[one * size + other]! * way[one]! * way[other]!;
  }
  return sum;
}

const TOO_FEW = "without one unit too few failures are left";

function asVector({ standard }: LifeModel, theta: Float64Array): Float64Array {
  const { coefficients, logSigma } = toTimeScale(standard, theta);
  return Float64Array.of(...coefficients, ...(standard.fitsShape ? [logSigma] : []));
}

function less(all: LifeLikelihood, part: LifeLikelihood): LifeLikelihood {
  return {
    size: all.size,
    at: (theta) => takenAway(all.at(theta), part.at(theta)),
    slopesAt: (theta) => slopesTakenAway(all.slopesAt(theta), part.slopesAt(theta)),
  };
}

function takenAway(all: CrossSums, part: CrossSums): CrossSums {
  return { ...slopesTakenAway(all, part), bend: minus(all.bend, part.bend) };
}

function slopesTakenAway(all: Slopes, part: Slopes): Slopes {
  return { value: all.value - part.value, slope: minus(all.slope, part.slope) };
}

function minus(all: Float64Array, part: Float64Array): Float64Array {
  const rest = new Float64Array(all.length);
  for (let at = 0; at < rest.length; at++) rest[at] = all[at]! - part[at]!;
  return rest;
}

function whyNot(model: LifeModel, left: number[], top: Climb): string {
  const out = new Set(left);
  const rows = Array.from({ length: rowsOf(model.lives) }, (_, row) => row).filter((row) => !out.has(row));
  const pick = (column: Float64Array) => Float64Array.from(rows, (row) => column[row]!);
  const covariates = model.standard.columns.map(({ name, values }) => ({ name, values: pick(values) }));
  const count = countsOf(model.lives);
  const idle = dependence(covariates, count === undefined ? undefined : pick(count));
  const reason = idle ?? (top.found ? "the likelihood is flat at its maximum" : whyNoTop(partOf(model, rows), top));
  return `without one unit ${reason}`;
}
