import { holm } from "../stats/multiple/holm.ts";
import { lifeRatio } from "../stats/regression/life-ratio.ts";
import { sampleQuantile } from "../stats/sample-quantile.ts";
import type { AdjustedFit, CompareAnswer, ContrastFound } from "./compare-answer.ts";
import type { Cases } from "./compare-cases.ts";
import { bestValue, curveOf, formOf } from "./compare-curve.ts";
import { detectableOf } from "./compare-detectable.ts";
import type { EffectTerms } from "./compare-effect.ts";
import { type EffectFit, effectFit, type ToFit } from "./compare-fit.ts";
import { gaugeOf } from "./compare-gauge.ts";
import type { ComparedLives } from "./compare-lives.ts";
import { modificationOf } from "./compare-modification.ts";
import { proportionalityOf } from "./compare-proportionality.ts";
import { type Asked, regressionOf, type Scale } from "./compare-regression.ts";
import { verdictOf } from "./compare-verdict.ts";
import type { Estimate } from "./estimate.ts";
import type { CompareQuestion } from "./scope.ts";

type Said = Pick<
  CompareAnswer,
  | "contrast"
  | "lifeRatio"
  | "adjusted"
  | "contrasts"
  | "form"
  | "best"
  | "curve"
  | "rug"
  | "nonlinearity"
  | "modification"
  | "proportionality"
  | "gauge"
  | "detectable"
  | "verdict"
>;

/** What an adjusted comparison says; `straightened`: why there is no curve. */
export type Adjusted = { said: Said; straightened: string | null };

/** The regression with all else alike, and all that is read off it; or why there is none. */
export function adjustedBy(found: ComparedLives, cases: Cases, question: CompareQuestion, scale: Scale): Adjusted {
  const regression = regressionOf(found, cases, question, scale);
  if ("reason" in regression) return refused(regression.reason);
  const { terms, asked, fit, whole, basis } = regression;
  const alone = cases.others.length === 0 ? fit : effectFit(withoutOthers(whole));
  return {
    said: {
      ...contrastsFound(asked, fit, alone, question),
      ...shapeOf(terms, fit, scale, question),
      adjusted: adjustedFit(fit, cases, terms, whole),
      modification: modificationOf(whole, fit, basis, cases.others, cases.rows),
      proportionality: proportionalityOf(whole),
      gauge: gaugeOf(whole, terms, asked[0]!.contrast, question),
      detectable: detectableOf(
        { failures: fit.failures, error: fit.contrast(asked[0]!.weights).error, watchedDays: found.watchedDays },
        question.matters,
        question.level,
      ),
    },
    straightened: terms.straightened,
  };
}

/** The adjusted ratio of the contrast that is surest, and its verdict, of lives read another way. */
export function ratioBy(
  found: ComparedLives,
  cases: Cases,
  question: CompareQuestion,
  scale: Scale,
): Pick<CompareAnswer, "lifeRatio" | "verdict"> {
  const regression = regressionOf(found, cases, question, scale);
  if ("reason" in regression) return { lifeRatio: none(regression.reason), verdict: "not enough evidence" };
  const { asked, fit } = regression;
  const { lifeRatio, verdict } = contrastsFound(asked, fit, fit, question);
  return { lifeRatio, verdict };
}

function withoutOthers({ stratum: _, ...whole }: ToFit): ToFit {
  return { ...whole, others: [] };
}

function contrastsFound(
  asked: Asked[],
  fit: EffectFit,
  alone: EffectFit | { reason: string },
  { level, matters }: CompareQuestion,
): Pick<Said, "contrast" | "contrasts" | "lifeRatio" | "verdict"> {
  const found = asked.map(({ contrast, weights }) => ({ contrast, weights, adjusted: fit.contrast(weights) }));
  const chances = holm(Float64Array.from(found, ({ adjusted }) => adjusted.p));
  const contrasts = found.map(({ contrast, weights, adjusted }, at): ContrastFound => {
    const ratio: Estimate = lifeRatio(adjusted);
    const said = verdictOf(ratio, matters);
    const sure = chances[at]! <= 1 - level;
    return {
      contrast,
      crude: "reason" in alone ? none(alone.reason) : lifeRatio(alone.contrast(weights)),
      adjusted: ratio,
      p: chances[at]!,
      verdict: said === "no practical difference" || sure ? said : "not enough evidence",
    };
  });
  const [first] = contrasts.toSorted((one, other) => (one.p ?? 1) - (other.p ?? 1));
  return { contrast: first!.contrast, contrasts, lifeRatio: first!.adjusted, verdict: first!.verdict };
}

function shapeOf(
  terms: EffectTerms,
  fit: EffectFit,
  { window }: Scale,
  { level, seed }: CompareQuestion,
): Pick<Said, "form" | "best" | "curve" | "rug" | "nonlinearity"> {
  if (terms.kind === "levels") {
    return { form: null, best: none("levels have no best value between them"), curve: [], rug: [], nonlinearity: null };
  }
  const { values, bends } = terms;
  const ends: [number, number] =
    window === null ? [sampleQuantile(values, OUTER), sampleQuantile(values, 1 - OUTER)] : [window.low, window.high];
  const best =
    bends.length > 0 ? bestValue(terms, fit, level, seed) : none("a straight line is best at one of its ends");
  const form = formOf(terms, fit, best.estimate, ends, level);
  return {
    form,
    best: form === "flat" ? none("the records show no effect whose best could be told") : best,
    curve: curveOf(terms, fit, (ends[0] + ends[1]) / 2),
    rug: rugOf(values),
    nonlinearity: bends.length > 0 ? fit.test(bends) : null,
  };
}

/** Without a window the ends of a curve leave out this share of the lives on either side. */
const OUTER = 0.05;
/** Marks of a rug: more run into each other. */
const MOST_MARKS = 200;

function rugOf(values: Float64Array): number[] {
  if (values.length <= MOST_MARKS) return [...values];
  return Array.from({ length: MOST_MARKS }, (_, at) => sampleQuantile(values, (at + 0.5) / MOST_MARKS));
}

function adjustedFit(
  fit: EffectFit,
  { others }: Cases,
  terms: EffectTerms,
  { lives, unit, model }: ToFit,
): AdjustedFit {
  return {
    model,
    lives: lives.low.length,
    failed: fit.failures,
    units: unit.includes(-1) ? null : new Set(unit).size,
    limits: fit.limits,
    alike: others.map(({ name }) => name),
    coefficients: fit.coefficients(),
    logLikelihood: fit.logLikelihood,
    shape: fit.shape,
    tests: { effect: fit.test(terms.columns.map((_, at) => at)) },
  };
}

function refused(reason: string): Adjusted {
  return {
    said: {
      contrast: null,
      lifeRatio: none(reason),
      adjusted: { reason },
      contrasts: [],
      form: null,
      best: none(reason),
      curve: [],
      rug: [],
      nonlinearity: null,
      modification: [],
      proportionality: [],
      gauge: null,
      detectable: { ratio: null, settle: [] },
      verdict: "not enough evidence",
    },
    straightened: null,
  };
}

function none(reason: string): Estimate {
  return { estimate: null, low: null, high: null, reason };
}
