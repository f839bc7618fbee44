import { type AgeScale, agesOnScale } from "./age-scale.ts";
import { type ChiSquareTest, chiSquareTest } from "./chi-square-test.ts";
import { addFailed } from "./failed-sums.ts";
import { checkHazardModel, type HazardModel } from "./hazard-model.ts";
import { scaledCoefficients } from "./hazard-residuals.ts";
import { inverseInformation } from "./inverse-information.ts";
import { addCurves, addSlope, unpacked } from "./partial-likelihood.ts";
import type { ConvergedHazards } from "./proportional-hazards.ts";
import { type RiskSets, riskSets } from "./risk-sets.ts";
import { RiskSums } from "./risk-sums.ts";
import { emptyTie, sumTie } from "./tie-sums.ts";

/** Whether ratios of hazards stay alike at all ages. */
export type Proportionality = {
  /** By covariate: that its coefficient does not change with age; null where the failures can't tell. */
  covariates: { name: string; test: ChiSquareTest | null }[];
  /** Of all together; null likewise. */
  global: ChiSquareTest | null;
};

/**
 * Tests whether the coefficients change with age: score tests of each covariate times g(age), added to the fit, g being a scale of age less its
 * mean over the failures.
 * @param model - that of the fit
 * @param fit - of `fitProportionalHazards`
 * @param scale - g; by Kaplan and Meier where not given
 * @returns a test of each covariate with 1 degree of freedom, and one of all together
 * @throws RangeError for columns that are not lives, covariates, strata, offsets or weights of them
 * @see P. M. Grambsch & T. M. Therneau, Biometrika 81 (1994) 515-526; Therneau & Grambsch, Modeling Survival Data, ch. 6
 * @example proportionality({ lives, covariates }, fit).global;
 */
export function proportionality(model: HazardModel, fit: ConvergedHazards, scale: AgeScale = "km"): Proportionality {
  checkHazardModel(model);
  const sets = riskSets(model);
  const { slope, bend } = changingSlopes(sets, scaledCoefficients(sets, fit), centredAges(model, sets, scale));
  const all = Array.from({ length: sets.width }, (_, one) => one);
  return {
    covariates: fit.names.map((name, one) => ({ name, test: testOf(slope, bend, [one]) })),
    global: testOf(slope, bend, all),
  };
}

/** g by step, of size 1 at most. */
function centredAges({ lives }: HazardModel, { time, failures }: RiskSets, scale: AgeScale): Float64Array {
  const ages = time.map(agesOnScale(lives, scale));
  const all = failures.reduce((sum, own) => sum + own, 0);
  const largest = ages.reduce((most, age) => Math.max(most, age), 0) || 1;
  const mean = ages.reduce((sum, age, step) => sum + (age / largest) * failures[step]!, 0) / all;
  return ages.map((age) => age / largest - mean);
}

/**
 * Slopes by the coefficients of the covariates times g, and minus the second derivatives by those of the covariates and of them times g, in one
 * matrix of twice the width.
 */
function changingSlopes(sets: RiskSets, b: Float64Array, g: Float64Array): { slope: Float64Array; bend: Float64Array } {
  const { width, terms, failing } = sets;
  const size = (width * (width + 1)) / 2;
  const slope = new Float64Array(width);
  const parts = [new Float64Array(size), new Float64Array(size), new Float64Array(size)];
  const sums = new RiskSums(sets, b);
  const tie = emptyTie();
  for (let step = 0; step < terms.length; step++) {
    sums.advance(step);
    sumTie(tie, terms[step]!, sums.atRisk[0]!, sums.failing[0]!);
    const own = new Float64Array(width);
    addFailed(own, sets, step);
    const share = failing[step]! / terms[step]!;
    addSlope(own, share, sums.atRisk, sums.failing, tie);
    for (let one = 0; one < width; one++) slope[one]! += g[step]! * own[one]!;
    parts.forEach((part, power) => {
      addCurves(part, share * g[step]! ** power, sums.atRisk, sums.failing, tie, width);
    });
  }
  const [plain, once, twice] = parts.map((part) => unpacked(part, width, -1));
  return { slope, bend: twoByTwo(plain!, once!, twice!, width) };
}

function twoByTwo(plain: Float64Array, once: Float64Array, twice: Float64Array, width: number): Float64Array {
  const whole = new Float64Array(4 * width * width);
  for (let one = 0; one < width; one++) {
    for (let other = 0; other < width; other++) {
      const at = one * width + other;
      whole[one * 2 * width + other] = plain[at]!;
      whole[(one + width) * 2 * width + other] = once[at]!;
      whole[one * 2 * width + other + width] = once[at]!;
      whole[(one + width) * 2 * width + other + width] = twice[at]!;
    }
  }
  return whole;
}

/** Score test of some of the changing coefficients with all the others free to be what they are. */
function testOf(slope: Float64Array, bend: Float64Array, tested: number[]): ChiSquareTest | null {
  const width = slope.length;
  const used = [...slope.keys(), ...tested.map((one) => width + one)];
  const part = Float64Array.from(used.flatMap((row) => used.map((column) => bend[row * 2 * width + column]!)));
  const inverse = inverseInformation({ bend: part, slope: new Float64Array(used.length) });
  if (inverse === null) return null;
  let statistic = 0;
  for (const [row, one] of tested.entries()) {
    for (const [column, other] of tested.entries()) {
      statistic += slope[one]! * inverse.get(width + row, width + column) * slope[other]!;
    }
  }
  return chiSquareTest(statistic, tested.length);
}
