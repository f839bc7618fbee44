import { familyOf } from "../distribution/families.ts";
import type { Family } from "../distribution/family.ts";
import type { IntervalLives, Lives } from "../lives.ts";
import type { Covariate } from "./covariates.ts";
import { type LevelCells, levelCells } from "./level-cells.ts";
import { type LifeLikelihood, lifeLikelihood } from "./life-likelihood.ts";
import { type LifeRows, lifeRows } from "./life-rows.ts";
import type { Standard } from "./life-time-scale.ts";
import { countsOf, type PlainLives, plainOrIntervals } from "./plain-lives.ts";
import { standardColumns } from "./standard-columns.ts";
import { typicalLogOf } from "./typical-log.ts";

/** Laws of life that a regression on log time takes. */
export type AcceleratedFamily = "weibull" | "exponential" | "lognormal" | "log-logistic";

/** The likelihood of a regression with what it was made from. */
export type LifeModel = {
  family: Family;
  lives: PlainLives | IntervalLives;
  standard: Standard;
  rows: LifeRows;
  /** Of the rows' points, where they have some. */
  cells: LevelCells | null;
  likelihood: LifeLikelihood;
};

/** @throws RangeError for columns that are not lives */
export function lifeModel(
  lives: Lives | IntervalLives,
  covariates: readonly Covariate[],
  distribution: AcceleratedFamily,
): LifeModel {
  const family = familyOf(distribution);
  const columns = plainOrIntervals(lives);
  const typicalLog = typicalLogOf(columns);
  const { fitsShape } = family;
  const standard = { columns: standardColumns(covariates, countsOf(columns)), typicalLog, fitsShape };
  const rows = lifeRows(columns, standard.columns, typicalLog);
  const cells = levelCells(rows.points, standard.columns);
  return { family, lives: columns, standard, rows, cells, likelihood: lifeLikelihood(rows, family, cells) };
}

/** The same of some rows of a model's lives, on its own scale. */
export function partOf(model: LifeModel, taken: ArrayLike<number>): LifeModel {
  const { lives, standard, family } = model;
  const rows = lifeRows(lives, standard.columns, standard.typicalLog, taken);
  return { ...model, rows, cells: null, likelihood: lifeLikelihood(rows, family) };
}
