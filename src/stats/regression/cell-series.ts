import { addEach, addPairs, alongParts, cellSums, eachBlock, partsWithShape } from "./cell-hazards.ts";
import { addCurvature, BLOCK } from "./cross-sums.ts";
import type { LevelCells } from "./level-cells.ts";

/** What third derivatives of minus the sum of hazards make of a way: how much they change the second derivatives, and the gradient, half of it. */
export type ThirdChange = {
  /** Adds to a slope half of what the third derivatives give along the way, twice. */
  addSlope(slope: Float64Array, away: Float64Array): void;
  /** Adds to the upper triangle of a bend what they give along the way. */
  addBend(bend: Float64Array, away: Float64Array): void;
};

const times = new Float64Array(BLOCK);

/** By cells: third derivatives by the free columns are kept of each, and no more of all columns than a way asks for. */
export function thirdByCells(cells: LevelCells, fitsShape: boolean, start: Float64Array): ThirdChange {
  const { terms } = cells;
  const columns = fitsShape ? [...terms.columns, terms.log] : terms.columns;
  const parts = partsWithShape(cells, fitsShape);
  const free = columns.length + 1;
  const thirds = cellSums(cells, free ** 3);
  const shape = fitsShape ? start.at(-1)! : 1;
  const theta = cellSums(cells, terms.columns.length + 1).by;
  alongParts(cells.parts, start, theta);
  eachBlock(cells, theta, shape, thirds, (own, from, length, hazard) => {
    for (let one = 0; one < free; one++) {
      const bend = own.subarray(one * free * free, (one + 1) * free * free);
      if (one === 0) times.set(hazard);
      else for (let term = 0; term < length; term++) times[term] = hazard[term]! * columns[one - 1]![from + term]!;
      addCurvature({ bend, slope: bend, value: 0 }, columns, from, length, times);
    }
  });
  const bends = cellSums(cells, free * free).by;
  const slopes = cellSums(cells, free).by;
  const way = cellSums(cells, free).by;
  const bendsAlong = (away: Float64Array) => {
    alongParts(parts, away, way);
    for (let one = 0; one < free; one++) {
      for (let other = one; other < free; other++) {
        const sum = bends[one * free + other]!;
        sum.fill(0);
        for (let third = 0; third < free; third++) {
          addProduct(sum, thirds.by[(third * free + one) * free + other]!, way[third]!);
        }
      }
    }
  };
  const bendOf = (one: number, other: number) => bends[Math.min(one, other) * free + Math.max(one, other)]!;
  return {
    addSlope: (slope, away) => {
      bendsAlong(away);
      for (let one = 0; one < free; one++) {
        const sum = slopes[one]!;
        sum.fill(0);
        for (let other = 0; other < free; other++) addProduct(sum, bendOf(one, other), way[other]!);
        for (let cell = 0; cell < sum.length; cell++) sum[cell]! /= 2;
      }
      addEach(slope, parts, slopes);
    },
    addBend: (bend, away) => {
      bendsAlong(away);
      addPairs(bend, parts, bendOf);
    },
  };
}

function addProduct(sum: Float64Array, one: Float64Array, other: Float64Array): void {
  for (let at = 0; at < sum.length; at++) sum[at]! += one[at]! * other[at]!;
}
