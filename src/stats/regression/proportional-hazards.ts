import type { Matrix } from "ml-matrix";
import type { Lives } from "../lives.ts";
import { type ChiSquareTest, chiSquareTest } from "./chi-square-test.ts";
import { climb } from "./climb.ts";
import type { Covariate } from "./covariates.ts";
import type { CrossSums } from "./cross-sums.ts";
import { checkHazardModel, type HazardFitOptions, type HazardModel } from "./hazard-model.ts";
import { inverseInformation } from "./inverse-information.ts";
import { anyOutlasted } from "./outlasted.ts";
import { partialLikelihood } from "./partial-likelihood.ts";
import { type RiskSets, riskSets } from "./risk-sets.ts";
import { runaway, type Untold, untoldCovariate } from "./why-no-hazards.ts";

/** Proportional hazards of greatest partial likelihood. */
export type ConvergedHazards = {
  converged: true;
  /** Of the covariates, in whose order all else is. */
  names: string[];
  /** Log of the ratio of hazards for a unit more of each covariate. */
  coefficients: Float64Array;
  /** Of the coefficients, by rows: the inverse of the observed information, which takes lives as independent. */
  covariance: number[][];
  /** Partial log-likelihood at the coefficients. */
  logLikelihood: number;
  /** The same with all coefficients 0. */
  logLikelihoodAtZero: number;
  /** Tests that all coefficients are 0. */
  likelihoodRatio: ChiSquareTest;
  score: ChiSquareTest;
  wald: ChiSquareTest;
  /** How many coefficients there are. */
  parameters: number;
  /** Failures, each as often as its count says. */
  failures: number;
  /** Steps that the search took. */
  iterations: number;
};

/** Why there are no proportional hazards: in words, and the covariates at fault where it is theirs. */
export type NoHazards = { converged: false; reason: string; failures: number; covariates: string[] };

/** Proportional hazards, or why there are none. */
export type HazardFit = ConvergedHazards | NoHazards;

/**
 * Cox's proportional hazards: the hazard of a life is that of its stratum at its age, of any form, times exp(sum of coefficient * covariate
 * + offset). Coefficients of greatest partial likelihood, by Newton steps.
 * @param lives - exact or right-censored; a row of count n is taken as n lives alike, in ties too
 * @param covariates - known when each life starts
 * @param options - ties, strata, offsets, weights
 * @returns the fit, or why the lives tell no coefficients: fewer than two failures, a covariate that is alike for all within each stratum,
 * follows from others, or whose coefficient runs away
 * @throws RangeError for columns that are not lives, covariates, strata, offsets or weights of them, or without covariates
 * @see D. R. Cox, Journal of the Royal Statistical Society B 34 (1972) 187-220; Therneau & Grambsch, Modeling Survival Data, ch. 3
 * @example fitProportionalHazards(lives, [{ name: "end_play", values: endPlay }], { stratum: fleet });
 */
export function fitProportionalHazards(
  lives: Lives,
  covariates: readonly Covariate[],
  options: HazardFitOptions = {},
): HazardFit {
  const model: HazardModel = { ...options, lives, covariates };
  checkHazardModel(model);
  const sets = riskSets(model);
  const failures = sets.failures.reduce((sum, own) => sum + own, 0);
  const start = partialLikelihood(sets, new Float64Array(sets.width));
  const refused = refusal(failures, sets, start);
  const fit = refused === null ? fitFrom(model, sets, start) : { reason: refused, covariates: [] };
  return "reason" in fit
    ? { converged: false, reason: fit.reason, failures, covariates: fit.covariates }
    : { converged: true, ...fit, failures };
}

function refusal(failures: number, sets: RiskSets, start: CrossSums): string | null {
  if (failures === 0) return "there are no failures";
  if (failures < 2) return "there is only one failure, which tells next to nothing of a covariate";
  if (!Number.isFinite(start.value)) return "the offsets or weights are too far apart to be reckoned with";
  return anyOutlasted(sets) ? null : "no life at risk outlasts a failure, so that none can be compared";
}

function fitFrom(
  model: HazardModel,
  sets: RiskSets,
  start: CrossSums,
): Omit<ConvergedHazards, "converged" | "failures"> | Untold {
  const startInverse = inverseInformation(start);
  const untold = untoldCovariate(model, sets, start, startInverse);
  if (untold !== null) return untold;
  const names = model.covariates.map(({ name }) => name);
  const likelihood = { size: sets.width, at: (b: Float64Array) => partialLikelihood(sets, b) };
  const found = climb(likelihood, new Float64Array(sets.width), false, start);
  if (!found.found) return runaway(model, found);
  const inverse = inverseInformation(found.sums);
  if (startInverse === null || inverse === null) return { reason: FLAT, covariates: names };
  const { value } = found.sums;
  return {
    names,
    coefficients: found.at.map((b, one) => b / sets.scales[one]!.size),
    covariance: ownScale(inverse, sets),
    logLikelihood: value,
    logLikelihoodAtZero: start.value,
    likelihoodRatio: chiSquareTest(2 * (value - start.value), sets.width),
    score: chiSquareTest(quadratic(startInverse.to1DArray(), start.slope), sets.width),
    wald: chiSquareTest(-quadratic(found.sums.bend, found.at), sets.width),
    parameters: sets.width,
    iterations: found.iterations,
  };
}

const FLAT = "the likelihood is flat at its maximum: the coefficients can't be told apart";

/** In the covariates' own units, and symmetric to the last digit. */
function ownScale(inverse: Matrix, { scales }: RiskSets): number[][] {
  return scales.map((one, row) =>
    scales.map((other, column) => {
      return (inverse.get(row, column) + inverse.get(column, row)) / 2 / (one.size * other.size);
    }),
  );
}

/** x' A x of a matrix row by row. */
function quadratic(matrix: ArrayLike<number>, x: Float64Array): number {
  let sum = 0;
  for (let row = 0; row < x.length; row++) {
    for (let column = 0; column < x.length; column++) sum += x[row]! * matrix[row * x.length + column]! * x[column]!;
  }
  return sum;
}
