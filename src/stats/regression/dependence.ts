import { type Covariate, dependentColumn } from "./covariates.ts";
import { everySo } from "./strided-rows.ts";

const SAMPLED_FROM = 50_000;
const SAMPLE = 5000;

/**
 * Why a regression can't tell the coefficients of covariates apart, in words; null where it can. Columns that tell something of their own
 * in a part of the rows do so in all, so that of very many rows mostly a part is enough.
 */
export function dependence(covariates: readonly Covariate[], count: Float64Array | undefined): string | null {
  const rows = covariates[0]?.values.length ?? 0;
  if (rows > SAMPLED_FROM && dependentIn(covariates, count, everySo(rows, SAMPLE)) === null) return null;
  const dependent = dependentColumn(covariates, count);
  if (dependent === null) return null;
  const { name, of } = dependent;
  return of.length === 0
    ? `covariate "${name}" is the same for all lives`
    : `covariate "${name}" follows from ${of.map((other) => `"${other}"`).join(", ")}`;
}

function dependentIn(covariates: readonly Covariate[], count: Float64Array | undefined, rows: Int32Array) {
  const pick = (column: Float64Array) => Float64Array.from(rows, (row) => column[row]!);
  const picked = covariates.map(({ name, values }) => ({ name, values: pick(values) }));
  return dependentColumn(picked, count === undefined ? undefined : pick(count));
}
