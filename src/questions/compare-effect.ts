import type { Covariate } from "../stats/regression/covariates.ts";
import { type NaturalSpline, naturalSpline, splineColumns } from "../stats/regression/natural-spline.ts";
import type { Known } from "./compare-lives.ts";
import { levelsOf, termsOf } from "./compare-terms.ts";

/** The effect as columns of a regression. */
export type EffectTerms = {
  columns: Covariate[];
  /** Of the columns, those by which a curve differs from a straight line. */
  bends: number[];
  /** Why a measured value is taken as straight although a curve was asked for; null where it isn't. */
  straightened: string | null;
} & (
  | {
      kind: "values";
      /** The lives' own values; and in rising order. */
      own: Float64Array;
      values: Float64Array;
      /** Weights on the columns of the log ratio of lives at one value over those at another. */
      weights: (first: number, second: number) => number[];
    }
  | { kind: "levels"; levels: string[]; reference: string; weights: (first: string, second: string) => number[] }
);

const CURVE = { df: 3 };

/**
 * @param rows - the lives that are used, by number
 * @param options - a straight line instead of a curve; the level that others are held against, the most common where not given
 */
export function effectTerms(
  effect: Known,
  rows: Int32Array,
  { straight, reference }: { straight: boolean; reference?: string },
): EffectTerms {
  if (effect.kind === "levels") return levelTerms(effect, rows, reference);
  const own = Float64Array.from(rows, (life) => effect.values[life]!);
  const spline = straight ? null : naturalSpline(own, CURVE);
  return spline === null || "reason" in spline
    ? {
        kind: "values",
        columns: [{ name: effect.name, values: own }],
        bends: [],
        straightened: spline === null ? null : spline.reason,
        own,
        values: own.toSorted(),
        weights: (first, second) => [first - second],
      }
    : curved(effect.name, own, spline);
}

function curved(name: string, own: Float64Array, spline: NaturalSpline): EffectTerms {
  const [line, ...bends] = splineColumns(spline, own);
  return {
    kind: "values",
    columns: [{ name, values: line! }, ...bends.map((values, at) => ({ name: `${name}, bend ${at + 1}`, values }))],
    bends: bends.map((_, at) => at + 1),
    straightened: null,
    own,
    values: own.toSorted(),
    weights: (first, second) =>
      splineColumns(spline, Float64Array.of(first, second)).map(([one, other]) => one! - other!),
  };
}

function levelTerms(effect: Extract<Known, { kind: "levels" }>, rows: Int32Array, wanted?: string): EffectTerms {
  const levels = levelsOf(effect, rows);
  const reference = wanted !== undefined && levels.includes(wanted) ? wanted : levels[0]!;
  const { columns } = termsOf(effect, rows, reference);
  const place = (level: string) => columns.findIndex(({ name }) => name === `${effect.name}=${level}`);
  return {
    kind: "levels",
    columns,
    bends: [],
    straightened: null,
    levels,
    reference,
    weights: (first, second) => columns.map((_, at) => (at === place(first) ? 1 : 0) - (at === place(second) ? 1 : 0)),
  };
}
