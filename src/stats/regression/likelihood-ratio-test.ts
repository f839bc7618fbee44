import { chiSquareTail } from "../chi-square-tail.ts";

/** A fit as a likelihood-ratio test takes it: its log-likelihood and how many numbers it fitted. */
export type FittedModel = { logLikelihood: number; parameters: number };

/** Twice the gain in log-likelihood, degrees of freedom, and p-value. */
export type LikelihoodRatioTest = { chiSquare: number; degrees: number; p: number };

/**
 * Likelihood-ratio test of a fit against a larger one that has it as a special case, on the same lives. It takes lives of one unit to be
 * unrelated; where they are not, it finds too much.
 * @param smaller - fit under the hypothesis
 * @param larger - fit with more numbers
 * @returns against the chi-square distribution
 * @throws RangeError unless the larger fits more numbers
 * @see Meeker & Escobar, Statistical Methods for Reliability Data, ch. 17
 * @example likelihoodRatioTest(straight, curved);
 */
export function likelihoodRatioTest(smaller: FittedModel, larger: FittedModel): LikelihoodRatioTest {
  const degrees = larger.parameters - smaller.parameters;
  if (!(degrees > 0)) {
    throw new RangeError(
      `Cannot compare likelihoods: the larger fit has ${larger.parameters} numbers, the smaller ${smaller.parameters}`,
    );
  }
  const chiSquare = Math.max(0, 2 * (larger.logLikelihood - smaller.logLikelihood));
  return { chiSquare, degrees, p: chiSquareTail(chiSquare, degrees) };
}
