import type { Climb } from "./climb.ts";
import { type Covariate, dependentColumn } from "./covariates.ts";
import type { LifeModel } from "./life-model.ts";

/** Why a likelihood has no top, in words that name the covariates. */
export function whyNoTop(model: LifeModel, climb: Lost): string {
  return (
    shapeAway(model, climb, FAR) ?? aloneAmongFailures(model) ?? shapeAway(model, climb, SOME) ?? fastest(model, climb)
  );
}

/** By how much, on the log scale, a shape may move before that is what is wrong: surely, and where nothing else is. */
const FAR = 7;
const SOME = 2;

type Lost = Extract<Climb, { found: false }>;

function shapeAway({ standard }: LifeModel, { at, start }: Lost, least: number): string | null {
  if (!standard.fitsShape) return null;
  const growth = Math.log(at.at(-1)! / start.at(-1)!);
  if (growth > least) return "the likelihood keeps rising as the shape grows: the covariates tell every failure's age";
  return growth < -least ? "the likelihood keeps rising as the shape falls to 0: no best shape exists" : null;
}

function fastest({ standard }: LifeModel, { step }: Lost): string {
  const paces = standard.columns.map((_, one) => Math.abs(step[one + 1]!));
  const most = Math.max(...paces);
  const column = standard.columns[paces.indexOf(most)];
  return column === undefined || !Number.isFinite(most)
    ? "the likelihood shows no maximum"
    : `the coefficient of "${column.name}" runs away: the likelihood keeps rising along it`;
}

/** A level that no failure has: the others' coefficients then run away from it, or its own from them. */
function aloneAmongFailures({ standard, rows }: LifeModel): string | null {
  const { points, within } = rows;
  const failed = Array.from(points.failed.keys()).filter((term) => points.failed[term] === 1);
  const ofFailures = standard.columns.map(
    ({ name, values }): Covariate => ({
      name,
      values: Float64Array.from([
        ...failed.map((term) => values[points.row?.[term] ?? term]!),
        ...Array.from(within.row, (row) => values[row]!),
      ]),
    }),
  );
  const dependent = dependentColumn(ofFailures);
  if (dependent === null) return null;
  const { name, of } = dependent;
  if (of.length > 0) {
    return `the coefficient of "${name}" runs away: among the failures it follows from ${of.map(quoted).join(", ")}`;
  }
  const value = ofFailures.find((column) => column.name === name)!.values[0];
  return `the coefficient of "${name}" runs away: it is ${value} for every failure, so that other values are never seen to fail`;
}

function quoted(name: string): string {
  return `"${name}"`;
}
