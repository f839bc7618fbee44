import { benjaminiHochberg } from "../stats/multiple/benjamini-hochberg.ts";
import type { ColumnBasis, Covariate } from "../stats/regression/covariates.ts";
import type { AdjustedFit, CompareAnswer } from "./compare-answer.ts";
import { type EffectFit, effectFit, type ToFit } from "./compare-fit.ts";
import type { Known } from "./compare-lives.ts";
import { termsOf } from "./compare-terms.ts";

/** A covariate of more levels than this asks for more products than lives can tell. */
const MOST_LEVELS = 5;

/**
 * Whether the effect differs with a covariate: products of its columns with the effect's own (of a curve, its straight part), each covariate for
 * itself. What is left out in turn is what the limits of the effect itself come from.
 * @param fit - without products
 * @param basis - its columns
 * @param rows - the lives that are fitted, by number
 */
export function modificationOf(
  asked: ToFit,
  { limits, logLikelihood, parameters }: EffectFit,
  basis: ColumnBasis,
  others: readonly Known[],
  rows: Int32Array,
): CompareAnswer["modification"] {
  const measured = asked.effect[0]!.values.some((value) => value !== 0 && value !== 1);
  const straight = measured ? asked.effect.slice(0, 1) : asked.effect;
  const cluster = CLUSTER[limits];
  const tests = others.flatMap((known) => {
    const { columns } = termsOf(known, rows);
    if (columns.length >= MOST_LEVELS) return [];
    const products = columns.flatMap((one) => straight.map((other) => productOf(other, one)));
    const besides = basis.copy();
    const kept = products.filter((product) => besides.take(product) === null);
    if (kept.length === 0) return [];
    const size = asked.effect.length + asked.others.length;
    const fit = effectFit({
      ...asked,
      others: [...asked.others, ...kept],
      nested: { columns: size, logLikelihood, parameters },
      ...(cluster !== undefined && { cluster }),
    });
    return "reason" in fit ? [] : [{ with: known.name, ...fit.test(kept.map((_, at) => size + at)) }];
  });
  const chances = tests.map(({ jackknifeP, p }) => jackknifeP ?? p);
  const known = chances.filter((p) => p !== null);
  const adjusted = benjaminiHochberg(Float64Array.from(known));
  return tests.map((test, at) => ({
    ...test,
    adjustedP: chances[at] === null ? null : adjusted[known.indexOf(chances[at]!)]!,
  }));
}

/** What is left out in turn; of limits by the likelihood neither has told. */
const CLUSTER: Record<AdjustedFit["limits"], ToFit["cluster"]> = {
  "units left out in turn": "unit",
  "positions left out in turn": "position",
  likelihood: undefined,
};

function productOf(one: Covariate, other: Covariate): Covariate {
  return { name: `${one.name} x ${other.name}`, values: one.values.map((value, row) => value * other.values[row]!) };
}
