import type { Family } from "../distribution/family.ts";
import { writeHazards } from "./cell-hazards.ts";
import { type ThirdChange, thirdByCells } from "./cell-series.ts";
import { addCurvature, BLOCK, type CrossSums, emptySums, mirror } from "./cross-sums.ts";
import type { LevelCells } from "./level-cells.ts";
import type { LifeRows, PointRows } from "./life-rows.ts";
import { placeBlock } from "./place-block.ts";

/** Gradient and second derivatives. */
export type Bends = Pick<CrossSums, "slope" | "bend">;

/**
 * The gradient of a log-likelihood about a place, to second order in the distance, and its second derivatives to first order. The lives are
 * gone through once, for the third derivatives; how near it comes is for the caller to look at.
 */
export type HazardSeries = {
  slopeAt(theta: Float64Array): Float64Array;
  bendAt(theta: Float64Array): Float64Array;
};

/**
 * Of Weibull and exponential lives whose ends are all known: each term takes exp(z) away, z being linear in theta, so that third derivatives
 * are sums of hazards times products of three columns. What depends on the shape alone is taken as it is.
 * @param sums - those at the place
 * @param cells - of the rows, where they have some
 * @returns null for other lives, which have no such sums
 */
export function hazardSeries(
  rows: LifeRows,
  { name, fitsShape }: Family,
  start: Float64Array,
  { slope, bend }: Bends,
  cells: LevelCells | null = null,
): HazardSeries | null {
  if ((name !== "weibull" && name !== "exponential") || rows.within.low.length > 0) return null;
  const size = start.length;
  const [shape, corner] = [size - 1, size * size - 1];
  const third = cells === null ? thirdInFull(rows.points, start, fitsShape) : thirdByCells(cells, fitsShape, start);
  const ofShape = (theta: Float64Array) => (fitsShape ? rows.exact / theta[shape]! : 0);
  const bendOfShape = (theta: Float64Array) => (fitsShape ? -rows.exact / theta[shape]! ** 2 : 0);
  const ofPoints = bend.with(corner, bend[corner]! - bendOfShape(start));
  const wayTo = (theta: Float64Array) => theta.map((value, one) => value - start[one]!);
  return {
    slopeAt: (theta) => {
      const way = wayTo(theta);
      const found = slope.map((value, one) => value + along(ofPoints, one * size, way));
      third.addSlope(found, way);
      found[shape]! += ofShape(theta) - ofShape(start);
      return found;
    },
    bendAt: (theta) => {
      const found = { slope, bend: ofPoints.slice() };
      third.addBend(found.bend, wayTo(theta));
      mirror(found);
      found.bend[corner]! += bendOfShape(theta);
      return found.bend;
    },
  };
}

function along(numbers: Float64Array, from: number, way: Float64Array): number {
  let sum = 0;
  for (let one = 0; one < way.length; one++) sum += numbers[from + one]! * way[one]!;
  return sum;
}

function thirdInFull(rows: PointRows, start: Float64Array, fitsShape: boolean): ThirdChange {
  const third = thirdDerivatives(rows, start, fitsShape);
  const size = start.length;
  return {
    addSlope: (slope, way) => {
      for (let one = 0; one < size; one++) {
        for (let other = one; other < size; other++) {
          const change = along(third, (one * size + other) * size, way) / 2;
          slope[one]! += change * way[other]!;
          if (other > one) slope[other]! += change * way[one]!;
        }
      }
    },
    addBend: (bend, way) => {
      for (let one = 0; one < size; one++) {
        for (let other = one; other < size; other++) {
          bend[one * size + other]! += along(third, (one * size + other) * size, way);
        }
      }
    },
  };
}

const hazard = new Float64Array(BLOCK);
const times = new Float64Array(BLOCK);

/** Minus the sums of the hazards times 1 or a column, three times over: by all three places, each of them in full. */
function thirdDerivatives(rows: PointRows, theta: Float64Array, fitsShape: boolean): Float64Array {
  const columns = fitsShape ? [...rows.columns, rows.log] : rows.columns;
  const shape = fitsShape ? theta.at(-1)! : 1;
  const sums = Array.from(theta, (_, one) => emptySums(theta.length - Math.max(one - 1, 0)));
  for (let from = 0; from < rows.log.length; from += BLOCK) {
    const length = Math.min(BLOCK, rows.log.length - from);
    placeBlock(rows, theta, shape, from, length, hazard);
    writeHazards(rows.weight, from, length, hazard);
    addCurvature(sums[0]!, columns, from, length, hazard);
    for (let one = 1; one < theta.length; one++) {
      const column = columns[one - 1]!;
      for (let term = 0; term < length; term++) times[term] = hazard[term]! * column[from + term]!;
      addCurvature(sums[one]!, columns.slice(one - 1), from, length, times);
    }
  }
  return inFull(sums, theta.length);
}

/** From a slice for each first of three places, the others being 0 or no less than that, to all orders of the three. */
function inFull(slices: readonly CrossSums[], size: number): Float64Array {
  const third = new Float64Array(size ** 3);
  const place = (one: number, two: number, three: number) => (one * size + two) * size + three;
  for (const [a, { slope, bend }] of slices.entries()) {
    const before = Math.max(a - 1, 0);
    for (let one = Math.min(a, 1); one < slope.length; one++) {
      for (let other = one; other < slope.length; other++) {
        const [b, c] = [before + one, before + other];
        const value = bend[one * slope.length + other]!;
        third[place(a, b, c)] = third[place(a, c, b)] = value;
        third[place(b, a, c)] = third[place(b, c, a)] = value;
        third[place(c, a, b)] = third[place(c, b, a)] = value;
      }
    }
  }
  return third;
}
