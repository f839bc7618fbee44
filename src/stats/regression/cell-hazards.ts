import { expByTable } from "../table-exp.ts";
import { addCurvature, addGradient, BLOCK, type CrossSums, type Slopes } from "./cross-sums.ts";
import { type CellPart, type LevelCells, wholePart } from "./level-cells.ts";
import { placeBlock } from "./place-block.ts";

/** Adds minus the hazards of terms, times 1 and each column to a slope, or times each pair to the upper triangle of a bend where there is one. */
export type AddHazards = (sums: CrossSums | Slopes, theta: Float64Array, shape: number) => void;

/** By cells: within each the free columns alone are gone through, and their sums make up those of all columns. */
export function hazardsByCells(cells: LevelCells, fitsShape: boolean): AddHazards {
  const { terms } = cells;
  const columns = fitsShape ? [...terms.columns, terms.log] : terms.columns;
  const parts = partsWithShape(cells, fitsShape);
  const free = columns.length + 1;
  const [bends, slopes] = [cellSums(cells, free * free), cellSums(cells, free)];
  const byCell = cellSums(cells, terms.columns.length + 1).by;
  return (sums, theta, shape) => {
    alongParts(cells.parts, theta, byCell);
    if ("bend" in sums) {
      eachBlock(cells, byCell, shape, bends, (own, from, length) =>
        addCurvature({ bend: own, slope: own, value: 0 }, columns, from, length, hazard),
      );
      addPairs(sums.bend, parts, (one, other) => bends.by[Math.min(one, other) * free + Math.max(one, other)]!);
    } else {
      eachBlock(cells, byCell, shape, slopes, (own, from, length) =>
        addGradient({ slope: own, value: 0 }, columns, from, length, hazard),
      );
      addEach(sums.slope, parts, slopes.by);
    }
  };
}

/** The parts of all numbers of the regression, the last of which is log age where the family has a shape. */
export function partsWithShape({ parts, terms }: LevelCells, fitsShape: boolean): CellPart[][] {
  return fitsShape ? [...parts, [wholePart(terms.columns.length + 1)]] : parts;
}

/** By free column and cell: the sum over all parts of it, each times its column's number. */
export function alongParts(parts: readonly CellPart[][], numbers: Float64Array, into: readonly Float64Array[]): void {
  const base = new Float64Array(into.length);
  for (let one = 0; one < parts.length; one++) {
    for (const part of parts[one]!) base[part.of]! += part.base * numbers[one]!;
  }
  for (let of = 0; of < into.length; of++) into[of]!.fill(base[of]!);
  for (let one = 0; one < parts.length; one++) {
    for (const { of, jump, cells } of parts[one]!) addInCells(into[of]!, jump * numbers[one]!, cells);
  }
}

function addInCells(sums: Float64Array, value: number, cells: Int32Array): void {
  for (let at = 0; at < cells.length; at++) sums[cells[at]!]! += value;
}

/** Adds to each column's slope the sums by free column and cell over its parts. */
export function addEach(slope: Float64Array, parts: readonly CellPart[][], sums: readonly Float64Array[]): void {
  const whole = Float64Array.from(sums, sumOf);
  for (let one = 0; one < parts.length; one++) {
    slope[one]! += sumOfParts(parts[one]!, sums, whole);
  }
}

/** Adds to each pair of columns, of the upper triangle, the sums by pair of free columns and cell over their parts. */
export function addPairs(
  bend: Float64Array,
  parts: readonly CellPart[][],
  sums: (one: number, other: number) => Float64Array,
): void {
  const size = parts.length;
  const free = Math.max(...parts.map((own) => own.at(-1)!.of)) + 1;
  const scaled = Array.from({ length: free }, () => new Float64Array(sums(0, 0).length));
  const whole = new Float64Array(free);
  for (let one = 0; one < size; one++) {
    for (const part of parts[one]!) {
      for (let of = 0; of < free; of++) whole[of] = scale(sums(part.of, of), part, scaled[of]!);
      for (let other = one; other < size; other++) {
        bend[one * size + other]! += sumOfParts(parts[other]!, scaled, whole);
      }
    }
  }
}

function sumOfParts(own: readonly CellPart[], sums: readonly Float64Array[], whole: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < own.length; at++) sum += sumOver(own[at]!, sums[own[at]!.of]!, whole[own[at]!.of]!);
  return sum;
}

/** Writes the values times what the part has of its free column, and gives their sum. */
function scale(values: Float64Array, { base, jump, cells }: CellPart, into: Float64Array): number {
  for (let at = 0; at < into.length; at++) into[at] = base * values[at]!;
  for (let at = 0; at < cells.length; at++) into[cells[at]!]! += jump * values[cells[at]!]!;
  return sumOf(into);
}

/** Sum of the values times what the part has of its free column. */
function sumOver({ base, jump, cells }: CellPart, values: Float64Array, whole: number): number {
  let inCells = 0;
  for (let at = 0; at < cells.length; at++) inCells += values[cells[at]!]!;
  return base * whole + jump * inCells;
}

function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < values.length; at++) sum += values[at]!;
  return sum;
}

/** Sums of a cell, and of all cells, cell by cell. */
export type CellSums = { own: Float64Array; by: Float64Array[] };

export function cellSums({ start }: LevelCells, size: number): CellSums {
  return {
    own: new Float64Array(size),
    by: Array.from({ length: size }, () => new Float64Array(start.length - 1)),
  };
}

const hazard = new Float64Array(BLOCK);

/**
 * Goes through the terms, a block of a cell at a time, and writes down what `add` summed up of each cell.
 * @param theta - by free column and cell
 * @param add - adds a block, of which minus the hazards are in `hazard`
 */
export function eachBlock(
  { start, terms }: LevelCells,
  theta: readonly Float64Array[],
  shape: number,
  { own, by }: CellSums,
  add: (own: Float64Array, from: number, length: number, hazard: Float64Array) => void,
): void {
  const at = new Float64Array(theta.length);
  for (let cell = 0; cell + 1 < start.length; cell++) {
    for (let one = 0; one < at.length; one++) at[one] = theta[one]![cell]!;
    own.fill(0);
    for (let from = start[cell]!; from < start[cell + 1]!; from += BLOCK) {
      const length = Math.min(BLOCK, start[cell + 1]! - from);
      placeBlock(terms, at, shape, from, length, hazard);
      writeHazards(terms.weight, from, length, hazard);
      add(own, from, length, hazard);
    }
    for (let one = 0; one < own.length; one++) by[one]![cell] = own[one]!;
  }
}

/** From z to minus the hazards of a block, which are its second derivatives. */
export function writeHazards(weight: Float64Array | null, from: number, length: number, z: Float64Array): void {
  if (weight === null) for (let term = 0; term < length; term++) z[term] = -expByTable(z[term]!);
  else for (let term = 0; term < length; term++) z[term] = -weight[from + term]! * expByTable(z[term]!);
}
