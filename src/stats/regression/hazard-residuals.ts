import { expByTable } from "../table-exp.ts";
import { checkHazardModel, type HazardModel } from "./hazard-model.ts";
import { hazardSteps, summedUp } from "./hazard-steps.ts";
import type { ConvergedHazards } from "./proportional-hazards.ts";
import { type RiskSets, riskSets } from "./risk-sets.ts";

/** What each life says of a fit; 0 for lives that count for nothing. */
export type HazardResiduals = {
  /** Failures of the life less those expected of it. */
  martingale: Float64Array;
  /** Of each covariate, the part of the life in the slope of the likelihood; its row's count and weight are not in it. */
  score: Float64Array[];
  /** Of each covariate, by about how much its coefficient would fall without the row, with all lives that it stands for. */
  dfbeta: Float64Array[];
};

/**
 * Residuals of proportional hazards: martingale, score and dfbeta.
 * @param model - that of the fit
 * @param fit - of `fitProportionalHazards`
 * @returns columns with a value for each life
 * @throws RangeError for columns that are not lives, covariates, strata, offsets or weights of them
 * @see Therneau & Grambsch, Modeling Survival Data, ch. 4 and 7; T. M. Therneau, P. M. Grambsch & T. R. Fleming, Biometrika 77 (1990) 147-160
 * @example hazardResiduals({ lives, covariates }, fit).martingale;
 */
export function hazardResiduals(model: HazardModel, fit: ConvergedHazards): HazardResiduals {
  checkHazardModel(model);
  const sets = riskSets(model);
  const { martingale, score } = residualsAt(sets, scaledCoefficients(sets, fit));
  const byLife = (column: Float64Array) => Float64Array.from(sets.place, (place) => column[place]!);
  const scores = sets.scales.map(({ size }, one) =>
    Float64Array.from(sets.place, (place) => score[place * sets.width + one]! * size),
  );
  const weight = Float64Array.from(sets.place, (place) => sets.weight?.[place] ?? 1);
  const dfbeta = fit.covariance.map((row) =>
    weight.map((own, life) => own * row.reduce((sum, value, one) => sum + value * scores[one]![life]!, 0)),
  );
  return { martingale: byLife(martingale), score: scores, dfbeta };
}

/** Coefficients of a fit as its risk sets take them. */
export function scaledCoefficients({ scales }: RiskSets, { coefficients }: ConvergedHazards): Float64Array {
  return coefficients.map((value, one) => value * scales[one]!.size);
}

/** Martingale and score residuals by place, the latter scaled, `width` numbers a place. */
export function residualsAt(sets: RiskSets, b: Float64Array): { martingale: Float64Array; score: Float64Array } {
  const { width, place, first, end, leaving, leaveFrom, leaveEnd } = sets;
  const residuals = new Residuals(sets, b);
  for (let step = 0; step < first.length; step++) {
    for (let at = first[step]!; at < end[step]!; at++) residuals.take(at, step, 1);
    residuals.takeFailures(step);
    for (let at = leaveFrom[step]!; at < leaveEnd[step]!; at++) residuals.take(leaving![at]!, step, -1);
  }
  const { martingale, score } = residuals;
  for (let at = 0; at < place.length; at++) {
    if (sets.weight?.[at] !== 0) continue;
    martingale[at] = 0;
    score.fill(0, at * width, (at + 1) * width);
  }
  return { martingale, score };
}

/** Residuals being added up. */
class Residuals {
  readonly martingale: Float64Array;
  readonly score: Float64Array;
  readonly #sets: RiskSets;
  readonly #steps: ReturnType<typeof hazardSteps>;
  readonly #hazard: Float64Array;
  readonly #drift: Float64Array;
  readonly #relative: Float64Array;

  constructor(sets: RiskSets, b: Float64Array) {
    this.martingale = new Float64Array(sets.place.length);
    this.score = new Float64Array(sets.x.length);
    this.#sets = sets;
    this.#steps = hazardSteps(sets, b);
    this.#hazard = summedUp(this.#steps.rise, 1, sets.stratum);
    this.#drift = summedUp(this.#steps.drift, sets.width, sets.stratum);
    this.#relative = relativeHazards(sets, b);
  }

  /** Takes off what is expected of a life from age 0 to that of the step; with a sign of -1 it was not yet at risk then. */
  take(place: number, step: number, sign: 1 | -1): void {
    const { width, x } = this.#sets;
    const relative = sign * this.#relative[place]!;
    this.martingale[place]! -= relative * this.#hazard[step]!;
    for (let one = 0; one < width; one++) {
      const drift = x[place * width + one]! * this.#hazard[step]! - this.#drift[step * width + one]!;
      this.score[place * width + one]! -= relative * drift;
    }
  }

  /** Adds the failures themselves, which were at risk in a part of their tie. */
  takeFailures(step: number): void {
    const { width, x, firstFailed, end } = this.#sets;
    const { tied, tiedDrift, mean } = this.#steps;
    for (let place = firstFailed[step]!; place < end[step]!; place++) {
      const relative = this.#relative[place]!;
      this.martingale[place]! += 1 + relative * tied[step]!;
      for (let one = 0; one < width; one++) {
        const value = x[place * width + one]!;
        const at = step * width + one;
        this.score[place * width + one]! += value - mean[at]! + relative * (value * tied[step]! - tiedDrift[at]!);
      }
    }
  }
}

/** exp(b'x + offset) by place. */
function relativeHazards({ width, x, offset, place }: RiskSets, b: Float64Array): Float64Array {
  return Float64Array.from({ length: place.length }, (_, at) => {
    let log = offset?.[at] ?? 0;
    for (let one = 0; one < width; one++) log += b[one]! * x[at * width + one]!;
    return expByTable(log);
  });
}
