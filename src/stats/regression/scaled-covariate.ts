/** What is taken off each value of a covariate and what it is then divided by, so that all are of one size. */
export type Scale = { centre: number; size: number };

/** What is left of a covariate that is alike for all lives is rounding below this share of it. */
const ROUNDING = 1e-13;

/** Weighted mean and standard deviation of a covariate; a size of 0 where it is alike for all lives that count. */
export function scaleOf(values: Float64Array, weight: Float64Array | null): Scale {
  const first = weight === null ? 0 : weight.findIndex((own) => own > 0);
  if (!(first in values)) return { centre: 0, size: 0 };
  const plain = momentsAbout(values, weight, { about: values[first]!, unit: 1 });
  if (!isDoubtful(plain)) return scaleFrom(plain);
  // numbers whose squares overflow or vanish, or that all lie far from the first
  const unit = largestOf(values, weight) || 1;
  const rough = scaleFrom(momentsAbout(values, weight, { about: values[first]! / unit, unit }));
  return scaleFrom(momentsAbout(values, weight, { about: rough.centre / unit, unit }));
}

/** In a unit, about a number near the values: mean distance from it and mean square of that. */
type Moments = { about: number; unit: number; mean: number; square: number };

function momentsAbout(
  values: Float64Array,
  weight: Float64Array | null,
  { about, unit }: Pick<Moments, "about" | "unit">,
): Moments {
  const { whole, sum, squares } =
    weight === null ? plainSums(values, about, 1 / unit) : weightedSums(values, weight, about, 1 / unit);
  return { about, unit, mean: sum / whole, square: squares / whole };
}

/** Apart from the weighted sums, for it takes an eighth of their time. */
function plainSums(values: Float64Array, about: number, times: number) {
  let sum = 0;
  let squares = 0;
  for (let life = 0; life < values.length; life++) {
    const distance = values[life]! * times - about;
    sum += distance;
    squares += distance * distance;
  }
  return { whole: values.length, sum, squares };
}

function weightedSums(values: Float64Array, weight: Float64Array, about: number, times: number) {
  let whole = 0;
  let sum = 0;
  let squares = 0;
  for (let life = 0; life < values.length; life++) {
    const own = weight[life]!;
    if (own === 0) continue;
    const distance = values[life]! * times - about;
    whole += own;
    sum += own * distance;
    squares += own * distance * distance;
  }
  return { whole, sum, squares };
}

/** Share of the mean square about a number that is left about the mean, below which rounding has a part in it. */
const DOUBTFUL = 1e-8;
const LARGE = 1e200;

function isDoubtful({ mean, square }: Moments): boolean {
  if (mean === 0 && square === 0) return false;
  const variance = square - mean * mean;
  return !(variance > DOUBTFUL * square && variance < LARGE && variance > 1 / LARGE);
}

function scaleFrom({ about, unit, mean, square }: Moments): Scale {
  const centre = about + mean;
  const size = Math.sqrt(Math.max(square - mean * mean, 0));
  return { centre: centre * unit, size: size > ROUNDING * Math.abs(centre) ? size * unit : 0 };
}

function largestOf(values: Float64Array, weight: Float64Array | null): number {
  let largest = 0;
  for (let life = 0; life < values.length; life++) {
    const size = Math.abs(values[life]!);
    if (size > largest && (weight === null || weight[life]! > 0)) largest = size;
  }
  return largest;
}
