/** What is known of each life when it starts: named columns of one value a life. A group is a column of 0 and 1 for each level but one. */
export type Covariate = { name: string; values: Float64Array };

/** @throws RangeError for a column of another length than the lives, or a value that is no number */
export function checkCovariates(covariates: readonly Covariate[], lives: number): void {
  for (const { name, values } of covariates) {
    if (values.length !== lives) {
      throw new RangeError(`Cannot use covariate "${name}": found ${values.length} values for ${lives} lives`);
    }
    if (!allFinite(values)) {
      const wrong = values.findIndex((value) => !Number.isFinite(value));
      throw new RangeError(
        `Cannot use covariate "${name}": its value for life ${wrong} (counted from 0) is ${values[wrong]}`,
      );
    }
  }
}

/** 0 times a number is 0 unless it is no finite one; quicker than asking each. */
function allFinite(values: Float64Array): boolean {
  let none = 0;
  for (let life = 0; life < values.length; life++) none += 0 * values[life]!;
  return none === 0;
}

/** A column that says nothing of its own: alike for all lives, or a sum of multiples of others. */
export type Dependent = { name: string; of: string[] };

/** What is left of a column of length 1 after others are taken out, below which it is one of them. */
const NEGLIGIBLE = 1e-7;

/** The same, from which on what was taken out is as good as gone. */
const MOSTLY_LEFT = 0.5;

/**
 * The first column that is constant (`of` empty) or a linear combination of a constant and the columns before it (`of` names them);
 * null where each tells something of its own.
 * @param weight - how much each life counts; 1 where not given
 */
export function dependentColumn(covariates: readonly Covariate[], weight?: Float64Array): Dependent | null {
  const basis = columnBasis(weight);
  for (const covariate of covariates) {
    const found = basis.take(covariate);
    if (found !== null) return found;
  }
  return null;
}

/** Columns that each tell something of their own. */
export type ColumnBasis = {
  /** Whether a column is constant or a linear combination of those taken so far; null where it tells something of its own, when it is taken too. */
  take(covariate: Covariate): Dependent | null;
  /** With the same columns, to which others are taken. */
  copy(): ColumnBasis;
};

/**
 * No columns, to which some are taken one by one: by Gram and Schmidt's orthogonalisation of columns less their weighted mean, done again where
 * it takes so much that rounding of it would show.
 * @param weight - how much each life counts; 1 where not given
 * @param stratum - number of each life's, from 0: lives are compared within a stratum only, so that what is alike within each says nothing, nor what follows from others there
 */
export function columnBasis(weight?: Float64Array, stratum?: Int32Array): ColumnBasis {
  return basisOf([], { weight, stratum });
}

type Counted = { weight: Float64Array | undefined; stratum: Int32Array | undefined };

function basisOf(kept: Direction[], counted: Counted): ColumnBasis {
  const { weight } = counted;
  const take = ({ name, values }: Covariate): Dependent | null => {
    const centred = lessMean(values, counted);
    const size = Math.sqrt(inner(centred, centred, weight));
    // of values all alike the mean is off by rounding
    const rounding = 1e-13 * Math.sqrt(inner(values, values, weight));
    if (!(size > rounding)) return { name, of: [] };
    const rest = centred.map((value) => value / size);
    const made = new Float64Array(kept.length);
    takeOut(rest, kept, made, weight);
    if (Math.sqrt(inner(rest, rest, weight)) < MOSTLY_LEFT) takeOut(rest, kept, made, weight);
    const left = Math.sqrt(inner(rest, rest, weight));
    if (left < NEGLIGIBLE) {
      const of = kept.filter((_, at) => Math.abs(made[at]!) > NEGLIGIBLE).map((direction) => direction.name);
      return { name, of: [...new Set(of)] };
    }
    const column = { name, values: rest.map((value) => value / left) };
    kept.push({ ...column, made: Float64Array.of(...made.map((share) => -share / left), 1 / left) });
    return null;
  };
  return { take, copy: () => basisOf([...kept], counted) };
}

/** Of length 1, and at right angles to the others; `made`: how much it has of each column that was taken, of length 1 too, the last its own. */
type Direction = Covariate & { made: Float64Array };

/** Takes the directions out of the column, and adds to `made` how much it had of each column that was taken. */
function takeOut(
  rest: Float64Array,
  directions: Direction[],
  made: Float64Array,
  weight: Float64Array | undefined,
): void {
  for (const { values, made: parts } of directions) {
    const along = inner(rest, values, weight);
    for (let at = 0; at < parts.length; at++) made[at]! += along * parts[at]!;
    for (let life = 0; life < rest.length; life++) rest[life]! -= along * values[life]!;
  }
}

function lessMean(values: Float64Array, { weight, stratum }: Counted): Float64Array {
  const strata = 1 + (stratum?.reduce((most, own) => Math.max(most, own), 0) ?? 0);
  const [sum, whole] = [new Float64Array(strata), new Float64Array(strata)];
  for (let life = 0; life < values.length; life++) {
    const [own, weighs] = [stratum?.[life] ?? 0, weight?.[life] ?? 1];
    sum[own]! += weighs * values[life]!;
    whole[own]! += weighs;
  }
  const mean = sum.map((all, own) => (whole[own]! > 0 ? all / whole[own]! : 0));
  return values.map((value, life) => value - mean[stratum?.[life] ?? 0]!);
}

function inner(one: Float64Array, other: Float64Array, weight: Float64Array | undefined): number {
  let sum = 0;
  for (let life = 0; life < one.length; life++) sum += (weight?.[life] ?? 1) * one[life]! * other[life]!;
  return sum;
}
