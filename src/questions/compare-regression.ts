import type { IntervalLives } from "../stats/lives.ts";
import {
  type ColumnBasis,
  type Covariate,
  columnBasis,
  type Dependent,
  dependentColumn,
} from "../stats/regression/covariates.ts";
import { sampleQuantile } from "../stats/sample-quantile.ts";
import type { Contrast } from "./compare-answer.ts";
import { type Cases, levelsIn, MOST_LEVELS, wordsOf } from "./compare-cases.ts";
import { type EffectTerms, effectTerms } from "./compare-effect.ts";
import { type EffectFit, effectFit, type ToFit } from "./compare-fit.ts";
import type { ComparedLives, Known } from "./compare-lives.ts";
import { independentColumns, termsOf } from "./compare-terms.ts";
import { valueWords } from "./compare-words.ts";
import type { CompareQuestion } from "./scope.ts";
import { allOf, inFull } from "./wording.ts";

/** Of a measured effect: the unit it is shown in, null where none is known, and what it should lie in. */
export type Scale = { unit: string | null; window: { low: number; high: number } | null };

/** The regression of the lives that can be used, with the contrasts that are asked of it; `basis`: its columns. */
export type Regression = { terms: EffectTerms; asked: Asked[]; fit: EffectFit; whole: ToFit; basis: ColumnBasis };

/** Fits how life goes with the effect, all else alike, or says why that can't be. */
export function regressionOf(
  found: ComparedLives,
  cases: Cases,
  question: CompareQuestion,
  scale: Scale,
): Regression | { reason: string } {
  const { rows } = cases;
  if (rows.length === 0)
    return because(`no life has ${wordsOf(question.effect)} and all that is to be held alike on record`);
  const levels = levelsIn(found.effect, rows);
  if (levels > MOST_LEVELS) {
    return because(
      `it has ${inFull(levels)} levels, more than the ${MOST_LEVELS} that can be compared; pick some with --where`,
    );
  }
  const curved = effectTerms(found.effect, rows, question);
  if (curved.columns.length === 0 || dependentColumn(curved.columns.slice(0, 1)) !== null) {
    return because(`${wordsOf(question.effect)} is the same for all lives that can be used`);
  }
  const lives = picked(found.lives, rows);
  const strata = cases.others.filter(({ name }) => question.stratify?.includes(name));
  const stratum = stratumOf(strata, rows);
  const beside = columnBasis(lives.count, stratum);
  const others = independentColumns(
    cases.others.filter((known) => !strata.includes(known)).map((known) => termsOf(known, rows)),
    beside,
  );
  const asCurve = withColumns(beside, curved.columns);
  const bent = curved.bends.length > 0 && asCurve.dependent !== null;
  const terms = bent ? { ...effectTerms(found.effect, rows, { straight: true }), straightened: TOO_ALIKE } : curved;
  const { basis, dependent: confounded } = bent ? withColumns(beside, terms.columns) : asCurve;
  if (confounded !== null) return because(goesTogether(question.effect, confounded.of, cases.others, strata));
  const asked = contrastsOf(terms, question, scale);
  if ("reason" in asked) return asked;
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
  const whole = { ...base, others, ...(stratum !== undefined && { stratum }) };
  const fit = effectFit(whole);
  return "reason" in fit ? fit : { terms, asked, fit, whole, basis };
}

/** Why an effect can't be told from what is held alike; `columns`: those that make it up, none where it is alike within each stratum. */
function goesTogether(
  effect: string,
  columns: readonly string[],
  others: readonly Known[],
  strata: readonly Known[],
): string {
  const within = allOf(strata.map(({ name }) => wordsOf(name)));
  if (columns.length === 0) {
    return `${wordsOf(effect)} is the same for all lives of each ${within}, and --stratify compares within it only; leave it out of --stratify`;
  }
  const held = others
    .map(({ name }) => name)
    .filter((name) => columns.some((of) => of === name || of.startsWith(`${name}=`)));
  if (held.length === 0) {
    return `levels of ${wordsOf(effect)} belong to one ${within} or another, and --stratify compares within it only; pick one with --where`;
  }
  const where = within === "" ? "" : ` within each ${within}`;
  return `${wordsOf(effect)} always goes together with ${allOf(held.map(wordsOf))}${where}: which of them it is can't be seen; --adjust names what is held alike`;
}

/** The columns beside others, and the first that says nothing of its own beside them. */
function withColumns(
  others: ColumnBasis,
  columns: readonly Covariate[],
): { basis: ColumnBasis; dependent: Dependent | null } {
  const basis = others.copy();
  for (const column of columns) {
    const dependent = basis.take(column);
    if (dependent !== null) return { basis, dependent };
  }
  return { basis, dependent: null };
}

function because(reason: string): { reason: string } {
  return { reason };
}

const TOO_ALIKE = "too few different values beside what is held alike";

/** A contrast, and its weights on the columns of the effect. */
export type Asked = { contrast: Contrast; weights: number[] };

/** Each level against the reference; of a measured value the middle of the lower third against that of the upper one. */
function contrastsOf(terms: EffectTerms, { contrast }: CompareQuestion, scale: Scale): Asked[] | { reason: string } {
  if (terms.kind === "levels") {
    const { reference: second } = terms;
    return terms.levels
      .filter((level) => level !== second)
      .toSorted((one, other) => one.localeCompare(other, "en", { numeric: true }))
      .map((first) => ({ contrast: { kind: "levels", first, second }, weights: terms.weights(first, second) }));
  }
  const [first, second] = contrast ?? thirdsOf(terms.values, scale);
  const outside = [first, second].find((value) => value < terms.values[0]! || value > terms.values.at(-1)!);
  if (outside !== undefined) {
    return because(
      `${valueWords(outside)} lies outside what is on record, ${valueWords(terms.values[0]!)} to ${valueWords(terms.values.at(-1)!)}; --contrast names other values`,
    );
  }
  return [{ contrast: { kind: "values", first, second, unit: scale.unit }, weights: terms.weights(first, second) }];
}

function thirdsOf(values: Float64Array, { window }: Scale): [number, number] {
  if (window === null) return [sampleQuantile(values, 1 / 6), sampleQuantile(values, 5 / 6)];
  const sixth = (window.high - window.low) / 6;
  return [window.low + sixth, window.high - sixth];
}

/** A number for each set of lives that have all strata alike; none where there are no strata. */
function stratumOf(strata: readonly Known[], rows: Int32Array): Int32Array | undefined {
  if (strata.length === 0) return undefined;
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
