import type { Family } from "../distribution/family.ts";
import { type CrossSums, emptySums, mirror, type Slopes } from "./cross-sums.ts";
import type { LevelCells } from "./level-cells.ts";
import type { LifeRows, WithinRows } from "./life-rows.ts";
import { pointSums } from "./point-sums.ts";
import { type WithinSlopes, withinSlopes } from "./within-slopes.ts";

/**
 * A log-likelihood by theta = (level, one number a standard column, and the shape k where the family has one), of the ages themselves, no
 * constant dropped: log age is -(level + columns) / k + (Z / k), Z being the family's standard law. In these it is concave for lives without
 * late entry, so that there is one maximum at most.
 * @see R. J. Olsen, Econometrica 46 (1978) 1211-1215 (lognormal lives)
 */
export type LifeLikelihood = {
  size: number;
  at(theta: Float64Array): CrossSums;
  /** The same without second derivatives, which take most of the time where columns are many. */
  slopesAt(theta: Float64Array): Slopes;
};

/** @param cells - of the rows' points, where they have some */
export function lifeLikelihood(rows: LifeRows, family: Family, cells: LevelCells | null = null): LifeLikelihood {
  const columns = rows.points.columns.length;
  const size = columns + 1 + (family.fitsShape ? 1 : 0);
  const addPoints = pointSums(rows, family, cells);
  const add = (sums: CrossSums | Slopes, theta: Float64Array) => {
    const shape = family.fitsShape ? theta[columns + 1]! : 1;
    addPoints(sums, theta, shape);
    addWithin(sums, rows.within, family, theta, shape);
    sums.value += rows.exact * Math.log(shape) - rows.exactLogs;
    if (family.fitsShape) sums.slope[size - 1]! += rows.exact / shape;
    if (Number.isNaN(sums.value)) sums.value = Number.NEGATIVE_INFINITY;
  };
  return {
    size,
    at: (theta) => {
      const sums = emptySums(size);
      add(sums, theta);
      mirror(sums);
      if (family.fitsShape) sums.bend[size * size - 1]! -= rows.exact / theta[columns + 1]! ** 2;
      return sums;
    },
    slopesAt: (theta) => {
      const sums = { value: 0, slope: new Float64Array(size) };
      add(sums, theta);
      return sums;
    },
  };
}

const inside: WithinSlopes = { value: 0, level: 0, shape: 0, levelLevel: 0, levelShape: 0, shapeShape: 0 };

function addWithin(
  sums: CrossSums | Slopes,
  { low, high, count, columns }: WithinRows,
  family: Family,
  theta: Float64Array,
  shape: number,
): void {
  const own = new Float64Array(columns.length + 1);
  own[0] = 1;
  for (let term = 0; term < low.length; term++) {
    for (let one = 0; one < columns.length; one++) own[one + 1] = columns[one]![term]!;
    let level = 0;
    for (let one = 0; one < own.length; one++) level += theta[one]! * own[one]!;
    withinSlopes(family, low[term]!, high[term]!, level, shape, count[term]!, inside);
    addTerm(sums, own, inside);
  }
}

/** Adds one term's derivatives, of `bend`, where there is one, the upper triangle. */
function addTerm(sums: CrossSums | Slopes, own: Float64Array, term: WithinSlopes): void {
  const { slope } = sums;
  sums.value += term.value;
  for (let one = 0; one < own.length; one++) slope[one]! += term.level * own[one]!;
  if (slope.length > own.length) slope[slope.length - 1]! += term.shape;
  if ("bend" in sums) addBend(sums, own, term);
}

function addBend({ slope, bend }: CrossSums, own: Float64Array, term: WithinSlopes): void {
  const size = slope.length;
  for (let one = 0; one < own.length; one++) {
    for (let other = one; other < own.length; other++) {
      bend[one * size + other]! += term.levelLevel * own[one]! * own[other]!;
    }
    if (size > own.length) bend[one * size + size - 1]! += term.levelShape * own[one]!;
  }
  if (size > own.length) bend[size * size - 1]! += term.shapeShape;
}
