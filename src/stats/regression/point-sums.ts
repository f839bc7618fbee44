import type { Family } from "../distribution/family.ts";
import { blockSlopesOf } from "./block-slopes.ts";
import { type AddHazards, hazardsByCells, writeHazards } from "./cell-hazards.ts";
import { addCurvature, addGradient, BLOCK, type CrossSums, type Slopes } from "./cross-sums.ts";
import type { LevelCells } from "./level-cells.ts";
import type { LifeRows, PointRows } from "./life-rows.ts";
import { placeBlock } from "./place-block.ts";

/** Adds the terms at one age each, as far as they depend on theta through z, to empty sums; of `bend`, where there is one, the upper triangle alone. */
export type AddPoints = (sums: CrossSums | Slopes, theta: Float64Array, shape: number) => void;

/**
 * By the fastest way that the family has.
 * @param cells - of the rows, where they have some
 */
export function pointSums({ points: rows, exact }: LifeRows, family: Family, cells: LevelCells | null): AddPoints {
  const columns = family.fitsShape ? [...rows.columns, rows.log] : rows.columns;
  if (family.name !== "weibull" && family.name !== "exponential") return bySlopes(rows, columns, family);
  const addHazards = cells === null ? hazardsOf(rows, columns) : hazardsByCells(cells, family.fitsShape);
  return byHazards(rows, exact, columns, addHazards);
}

const z = new Float64Array(BLOCK);
const first = new Float64Array(BLOCK);
const second = new Float64Array(BLOCK);

/**
 * Weibull and exponential: log f = z - exp(z), log S = -exp(z). What the failures add in z is linear in theta, and summed up once; the hazards
 * are minus the second derivatives, so that the first are known from those.
 */
function byHazards(
  rows: PointRows,
  exact: number,
  columns: readonly Float64Array[],
  addHazards: AddHazards,
): AddPoints {
  const failures = Float64Array.of(exact, ...columns.map((column) => failureSum(rows, column)));
  const failureLogs = failureSum(rows, rows.log);
  return (sums, theta, shape) => {
    addHazards(sums, theta, shape);
    const { slope } = sums;
    if ("bend" in sums) for (let one = 0; one < failures.length; one++) slope[one]! = sums.bend[one]!;
    sums.value += slope[0]! + shape * failureLogs;
    for (let one = 0; one < failures.length; one++) {
      slope[one]! += failures[one]!;
      if (one <= rows.columns.length) sums.value += theta[one]! * failures[one]!;
    }
  };
}

function hazardsOf(rows: PointRows, columns: readonly Float64Array[]): AddHazards {
  return (sums, theta, shape) => {
    for (let from = 0; from < rows.log.length; from += BLOCK) {
      const length = Math.min(BLOCK, rows.log.length - from);
      placeBlock(rows, theta, shape, from, length, z);
      writeHazards(rows.weight, from, length, z);
      if ("bend" in sums) addCurvature(sums, columns, from, length, z);
      else addGradient(sums, columns, from, length, z);
    }
  };
}

/** Sum over the failures of a column. Multiplied, not branched upon: which failed no processor can foresee. */
function failureSum({ failed, weight }: PointRows, column: Float64Array): number {
  let sum = 0;
  if (weight === null) for (let term = 0; term < failed.length; term++) sum += failed[term]! * column[term]!;
  else for (let term = 0; term < failed.length; term++) sum += failed[term]! * weight[term]! * column[term]!;
  return sum;
}

function bySlopes(rows: PointRows, columns: readonly Float64Array[], family: Family): AddPoints {
  const slopes = blockSlopesOf(family);
  return (sums, theta, shape) => {
    for (let from = 0; from < rows.log.length; from += BLOCK) {
      const length = Math.min(BLOCK, rows.log.length - from);
      placeBlock(rows, theta, shape, from, length, z);
      sums.value += slopes(rows, from, length, z, first, second);
      addGradient(sums, columns, from, length, first);
      if ("bend" in sums) addCurvature(sums, columns, from, length, second);
    }
  };
}
