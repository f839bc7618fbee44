import type { IntervalLives } from "../stats/lives.ts";
import { dependentColumn } from "../stats/regression/covariates.ts";
import { lifeRatio } from "../stats/regression/life-ratio.ts";
import type { AdjustedFit, CompareAnswer, Contrast, ContrastFound } from "./compare-answer.ts";
import { type Cases, wordsOf } from "./compare-cases.ts";
import { bestValue, curveOf, formOf, quantile } from "./compare-curve.ts";
import { detectableOf } from "./compare-detectable.ts";
import { type EffectTerms, effectTerms } from "./compare-effect.ts";
import { type EffectFit, effectFit, type ToFit } from "./compare-fit.ts";
import { gaugeOf } from "./compare-gauge.ts";
import type { ComparedLives, Known } from "./compare-lives.ts";
import { modificationOf } from "./compare-modification.ts";
import { proportionalityOf } from "./compare-proportionality.ts";
import { independentColumns, termsOf } from "./compare-terms.ts";
import { holm, verdictOf } from "./compare-verdict.ts";
import type { Estimate } from "./estimate.ts";
import type { CompareQuestion } from "./scope.ts";
import { allOf } from "./wording.ts";

/** What a measured value should lie in, in the unit of the records. */
export type Window = { low: number; high: number; unit: string };

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

/** What an adjusted comparison says; `reason`: why there is none; `straightened`: why there is no curve. */
export type Adjusted = { said: Said; reason: string | null; straightened: string | null };

/** The regression with all else alike, and all that is read off it; or why there is none. */
export function adjustedBy(
  found: ComparedLives,
  cases: Cases,
  question: CompareQuestion,
  window: Window | null,
): Adjusted {
  const { rows } = cases;
  if (rows.length === 0)
    return refused(`no life has ${wordsOf(question.effect)} and all that is to be held alike on record`);
  const curved = effectTerms(found.effect, rows, question);
  if (curved.columns.length === 0 || dependentColumn(curved.columns.slice(0, 1)) !== null) {
    return refused(`${wordsOf(question.effect)} is the same for all lives that can be used`);
  }
  const lives = picked(found.lives, rows);
  const strata = cases.others.filter(({ name }) => question.stratify?.includes(name));
  const others = independentColumns(
    cases.others.filter((known) => !strata.includes(known)).map((known) => termsOf(known, rows)),
    lives.count,
  );
  const bent = curved.bends.length > 0 && dependentColumn([...others, ...curved.columns], lives.count) !== null;
  const terms = bent ? { ...effectTerms(found.effect, rows, { straight: true }), straightened: TOO_ALIKE } : curved;
  const confounded = dependentColumn([...others, ...terms.columns], lives.count);
  if (confounded !== null) {
    const held = cases.others
      .map(({ name }) => name)
      .filter((name) => confounded.of.some((of) => of === name || of.startsWith(`${name}=`)));
    return refused(
      `${wordsOf(question.effect)} always goes together with ${allOf(held.map(wordsOf))}: which of them it is can't be seen; --adjust names what is held alike`,
    );
  }
  const asked = contrastsOf(terms, question, window);
  const codes = (column: Int32Array) => Int32Array.from(rows, (life) => column[life]!);
  const base = {
    lives,
    effect: terms.columns,
    model: question.model,
    unit: codes(found.unit),
    place: codes(found.place),
    main: asked[0]!.weights,
    level: question.level,
    seed: question.seed,
    ...(question.cluster !== undefined && { cluster: question.cluster }),
  };
  const whole = { ...base, others, ...(strata.length > 0 && { stratum: stratumOf(strata, rows) }) };
  const fit = effectFit(whole);
  if ("reason" in fit) return refused(fit.reason);
  const alone = cases.others.length === 0 ? fit : effectFit({ ...base, others: [] });
  return {
    said: {
      ...contrastsFound(asked, fit, alone, question),
      ...shapeOf(terms, fit, window, question),
      adjusted: adjustedFit(fit, cases, terms, whole),
      modification: modificationOf(whole, cases.others, rows),
      proportionality: proportionalityOf(whole),
      gauge: gaugeOf(whole, terms, asked[0]!.contrast, question),
      detectable: detectableOf(
        { failures: fit.failures, error: fit.contrast(asked[0]!.weights).error, watchedDays: found.watchedDays },
        question.matters,
        question.level,
      ),
    },
    reason: null,
    straightened: terms.straightened,
  };
}

const TOO_ALIKE = "too few different values beside what is held alike";

type Asked = { contrast: Contrast; weights: number[] };

/** Each level against the reference; of a measured value the middle of the lower third against that of the upper one. */
function contrastsOf(terms: EffectTerms, { contrast }: CompareQuestion, window: Window | null): Asked[] {
  if (terms.kind === "levels") {
    const { reference: second } = terms;
    return terms.levels
      .filter((level) => level !== second)
      .toSorted((one, other) => one.localeCompare(other, "en", { numeric: true }))
      .map((first) => ({ contrast: { kind: "levels", first, second }, weights: terms.weights(first, second) }));
  }
  const [first, second] = contrast ?? thirdsOf(terms.values, window);
  const unit = window?.unit ?? null;
  return [{ contrast: { kind: "values", first, second, unit }, weights: terms.weights(first, second) }];
}

function thirdsOf(values: Float64Array, window: Window | null): [number, number] {
  if (window === null) return [quantile(values, 1 / 6), quantile(values, 5 / 6)];
  const sixth = (window.high - window.low) / 6;
  return [window.low + sixth, window.high - sixth];
}

function contrastsFound(
  asked: Asked[],
  fit: EffectFit,
  alone: EffectFit | { reason: string },
  { level, matters }: CompareQuestion,
): Pick<Said, "contrast" | "contrasts" | "lifeRatio" | "verdict"> {
  const found = asked.map(({ contrast, weights }) => ({ contrast, weights, adjusted: fit.contrast(weights) }));
  const chances = holm(found.map(({ adjusted }) => adjusted.p));
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
  window: Window | null,
  { level, seed }: CompareQuestion,
): Pick<Said, "form" | "best" | "curve" | "rug" | "nonlinearity"> {
  if (terms.kind === "levels") {
    return { form: null, best: none("levels have no best value between them"), curve: [], rug: [], nonlinearity: null };
  }
  const { values, bends } = terms;
  const ends: [number, number] =
    window === null ? [quantile(values, OUTER), quantile(values, 1 - OUTER)] : [window.low, window.high];
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
  return Array.from({ length: MOST_MARKS }, (_, at) => quantile(values, (at + 0.5) / MOST_MARKS));
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
    units: new Set(unit).size,
    limits: fit.limits,
    alike: others.map(({ name }) => name),
    coefficients: fit.coefficients,
    logLikelihood: fit.logLikelihood,
    shape: fit.shape,
    tests: { effect: fit.test(terms.columns.map((_, at) => at)) },
  };
}

/** A number for each set of lives that have all strata alike. */
function stratumOf(strata: readonly Known[], rows: Int32Array): Int32Array {
  const numberOf = new Map<string, number>();
  return Int32Array.from(rows, (life) => {
    const key = strata.map((known) => (known.kind === "levels" ? known.codes[life] : known.values[life])).join(" ");
    const number = numberOf.get(key) ?? numberOf.size;
    numberOf.set(key, number);
    return number;
  });
}

function picked({ low, high, entry, count }: IntervalLives, rows: Int32Array): IntervalLives {
  const pick = (column: Float64Array) => Float64Array.from(rows, (life) => column[life]!);
  return {
    low: pick(low),
    high: pick(high),
    ...(entry !== undefined && { entry: pick(entry) }),
    ...(count !== undefined && { count: pick(count) }),
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
    reason,
    straightened: null,
  };
}

function none(reason: string): Estimate {
  return { estimate: null, low: null, high: null, reason };
}
