import { inverse } from "ml-matrix";
import type { IntervalLives, Lives } from "../lives.ts";
import type { ConvergedAcceleratedLife } from "./accelerated-life.ts";
import { blockSlopesOf } from "./block-slopes.ts";
import { type Covariate, checkCovariates } from "./covariates.ts";
import { BLOCK } from "./cross-sums.ts";
import { type LifeModel, lifeModel } from "./life-model.ts";
import type { PointRows } from "./life-rows.ts";
import { fromTimeScale, timeScaleSlopes } from "./life-time-scale.ts";
import { placeBlock } from "./place-block.ts";
import { type WithinSlopes, withinSlopes } from "./within-slopes.ts";

/**
 * What each row adds to the derivative of the log-likelihood by each coefficient and by log sigma at the fit; over all rows they sum to 0.
 * @param lives - those of the fit
 * @param covariates - those of the fit
 * @param fit - a regression of greatest likelihood
 * @returns a column for each coefficient and, last, log sigma (none for the exponential), as long as the lives; counts multiply
 * @throws RangeError for columns that are not lives, or covariates of another length or with a value that is no number
 * @see Therneau & Grambsch, Modeling Survival Data: Extending the Cox Model, section 7.1; Lawless, Statistical Models and Methods for Lifetime Data, ch. 6
 * @example scoreResiduals(lives, covariates, fit);
 */
export function scoreResiduals(
  lives: Lives | IntervalLives,
  covariates: readonly Covariate[],
  fit: ConvergedAcceleratedLife,
): Float64Array[] {
  checkCovariates(covariates, "time" in lives ? lives.time.length : lives.low.length);
  const rows = Int32Array.from({ length: "time" in lives ? lives.time.length : lives.low.length }, (_, row) => row);
  return scoresOf(lifeModel(lives, covariates, fit.distribution), fit, rows);
}

/**
 * The same of a model with its fit, summed up.
 * @param into - for each row the place of its sum, from 0
 */
export function scoresOf(model: LifeModel, fit: ConvergedAcceleratedLife, into: Int32Array): Float64Array[] {
  const theta = fromTimeScale(model.standard, { coefficients: fit.coefficients, logSigma: Math.log(fit.sigma) });
  const own = scoresByTheta(model, theta, into);
  const back = inverse(timeScaleSlopes(model.standard, theta)).to2DArray();
  return own.map((_, to) => {
    const column = new Float64Array(own[0]!.length);
    for (const [from, score] of own.entries()) {
      const times = back[from]![to]!;
      if (times !== 0) for (let row = 0; row < column.length; row++) column[row]! += times * score[row]!;
    }
    return column;
  });
}

function scoresByTheta(model: LifeModel, theta: Float64Array, into: Int32Array): Float64Array[] {
  const sums = into.reduce((most, place) => Math.max(most, place + 1), 0);
  const scores = Array.from(theta, () => new Float64Array(sums));
  addPoints(scores, model, theta, into);
  if (model.standard.fitsShape) addFailures(scores.at(-1)!, model.rows.points, theta.at(-1)!, into);
  addWithin(scores, model, theta, into);
  return scores;
}

const z = new Float64Array(BLOCK);
const first = new Float64Array(BLOCK);
const second = new Float64Array(BLOCK);
const place = new Int32Array(BLOCK);

function addPoints(
  scores: Float64Array[],
  { rows: { points }, family, standard }: LifeModel,
  theta: Float64Array,
  into: Int32Array,
): void {
  const shape = standard.fitsShape ? theta.at(-1)! : 1;
  const columns = standard.fitsShape ? [...points.columns, points.log] : points.columns;
  const slopes = blockSlopesOf(family);
  for (let from = 0; from < points.log.length; from += BLOCK) {
    const length = Math.min(BLOCK, points.log.length - from);
    placeBlock(points, theta, shape, from, length, z);
    slopes(points, from, length, z, first, second);
    for (let term = 0; term < length; term++) place[term] = into[points.row?.[from + term] ?? from + term]!;
    for (let term = 0; term < length; term++) scores[0]![place[term]!]! += first[term]!;
    for (const [one, column] of columns.entries()) addColumn(scores[one + 1]!, column, from, length);
  }
}

function addColumn(scores: Float64Array, column: Float64Array, from: number, length: number): void {
  for (let term = 0; term < length; term++) scores[place[term]!]! += first[term]! * column[from + term]!;
}

/** What failures add by the shape itself. */
function addFailures(scores: Float64Array, { failed, weight, row }: PointRows, shape: number, into: Int32Array): void {
  for (let term = 0; term < failed.length; term++) {
    if (failed[term] === 1) scores[into[row?.[term] ?? term]!]! += (weight?.[term] ?? 1) / shape;
  }
}

function addWithin(
  scores: Float64Array[],
  { rows: { within }, family, standard }: LifeModel,
  theta: Float64Array,
  into: Int32Array,
): void {
  const out: WithinSlopes = { value: 0, level: 0, shape: 0, levelLevel: 0, levelShape: 0, shapeShape: 0 };
  const shape = standard.fitsShape ? theta.at(-1)! : 1;
  for (let term = 0; term < within.low.length; term++) {
    const row = into[within.row[term]!]!;
    const own = [1, ...within.columns.map((column) => column[term]!)];
    const level = own.reduce((sum, value, one) => sum + theta[one]! * value, 0);
    withinSlopes(family, within.low[term]!, within.high[term]!, level, shape, within.count[term]!, out);
    for (const [one, value] of own.entries()) scores[one]![row]! += out.level * value;
    if (standard.fitsShape) scores.at(-1)![row]! += out.shape;
  }
}
