import { type Covariate, dependentColumn } from "./covariates.ts";
import type { LifeModel } from "./life-model.ts";

/** A level that no failure has: the others' coefficients then run away from it, or its own from them. */
export function aloneAmongFailures({ standard, rows }: LifeModel): string | null {
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
