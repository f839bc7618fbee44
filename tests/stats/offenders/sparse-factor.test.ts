import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { sparseFactor, sparseLogDeterminant, sparseSolve } from "../../../src/stats/offenders/sparse-factor.ts";
import { sparseInverse } from "../../../src/stats/offenders/sparse-inverse.ts";
import { sparsePattern } from "../../../src/stats/offenders/sparse-pattern.ts";
import { expectAgreement } from "../../agree.ts";

type Pair = [number, number];

/** A matrix with the pairs' entries and a diagonal that outweighs them, and its pattern. */
function matrixOf(size: number, pairs: Pair[]) {
  const distinct = [
    ...new Map(
      pairs.filter(([a, b]) => a !== b).map(([a, b]) => [`${Math.min(a, b)} ${Math.max(a, b)}`, [a, b] as Pair]),
    ).values(),
  ];
  const value = Float64Array.from(distinct, ([a, b]) => ((a * 7 + b * 3) % 5) / 4 + 0.25);
  const diagonal = new Float64Array(size).fill(0.5);
  for (const [at, pair] of distinct.entries()) for (const one of pair) diagonal[one]! += value[at]!;
  const neighbours = Array.from({ length: size }, (_, row) =>
    Int32Array.from(distinct.flatMap(([a, b]) => (a === row ? [b] : b === row ? [a] : []))),
  );
  const first = Int32Array.from(distinct, ([a]) => a);
  const second = Int32Array.from(distinct, ([, b]) => b);
  return { neighbours, matrix: { diagonal, first, second, value } };
}

describe("sparseFactor", () => {
  it("solves, and gives determinant and inverse, as Gauss's elimination does", () => {
    const shapes = fc.integer({ min: 1, max: 12 }).chain((size) =>
      fc.record({
        size: fc.constant(size),
        pairs: fc.array(fc.tuple(fc.nat({ max: size - 1 }), fc.nat({ max: size - 1 })), { maxLength: 30 }),
      }),
    );
    fc.assert(
      fc.property(shapes, ({ size, pairs }) => {
        expectAsByElimination(size, pairs);
      }),
      { seed: 3, numRuns: 300 },
    );
  });

  it("keeps a star and a chain without new entries, and gives up on what is too much work", () => {
    const star = Array.from({ length: 99 }, (_, leaf): Pair => [0, leaf + 1]);
    const chain = Array.from({ length: 99 }, (_, link): Pair => [link, link + 1]);
    for (const pairs of [star, chain]) {
      expect(sparsePattern(matrixOf(100, pairs).neighbours, 1e9)?.row.length).toBe(99);
      expect(sparsePattern(matrixOf(100, pairs).neighbours, 50)).toBeNull();
    }
  });

  it("has no factor of a matrix that is not positive", () => {
    const { neighbours, matrix } = matrixOf(2, [[0, 1]]);
    const pattern = sparsePattern(neighbours, 1e9);
    expect(pattern && sparseFactor(pattern, { ...matrix, value: Float64Array.of(9) })).toBeNull();
  });
});

function expectAsByElimination(size: number, pairs: Pair[]): void {
  const { neighbours, matrix } = matrixOf(size, pairs);
  const pattern = sparsePattern(neighbours, 1e9);
  const factor = pattern && sparseFactor(pattern, matrix);
  if (factor === null) throw new Error("no factor");
  const { inverse, logDeterminant } = byElimination(size, matrix);
  const side = Float64Array.from({ length: size }, (_, row) => row - 2);
  for (const [row, found] of sparseSolve(factor, side).entries()) {
    const expected = inverse[row]!.reduce((sum, value, column) => sum + value * side[column]!, 0);
    expectAgreement(found, expected, { abs: 1e-10 });
  }
  expectAgreement(sparseLogDeterminant(factor), logDeterminant, { abs: 1e-10 });
  const { diagonal, value } = sparseInverse(factor, matrix);
  for (const [row, found] of diagonal.entries()) expectAgreement(found, inverse[row]![row]!, { abs: 1e-10 });
  for (const [at, found] of value.entries()) {
    expectAgreement(found, inverse[matrix.first[at]!]![matrix.second[at]!]!, { abs: 1e-10 });
  }
}

/** Inverse and determinant by Gauss and Jordan. */
function byElimination(size: number, matrix: ReturnType<typeof matrixOf>["matrix"]) {
  const rows = Array.from({ length: size }, (_, row) =>
    Array.from({ length: 2 * size }, (_, column) =>
      column === row ? matrix.diagonal[row]! : column === size + row ? 1 : 0,
    ),
  );
  for (const [at, value] of matrix.value.entries()) {
    rows[matrix.first[at]!]![matrix.second[at]!]! += value;
    rows[matrix.second[at]!]![matrix.first[at]!]! += value;
  }
  let logDeterminant = 0;
  for (let pivot = 0; pivot < size; pivot++) {
    const own = rows[pivot]![pivot]!;
    logDeterminant += Math.log(own);
    rows[pivot] = rows[pivot]!.map((value) => value / own);
    for (let row = 0; row < size; row++) {
      const factor = rows[row]![pivot]!;
      if (row !== pivot) rows[row] = rows[row]!.map((value, column) => value - factor * rows[pivot]![column]!);
    }
  }
  return { inverse: rows.map((row) => row.slice(size)), logDeterminant };
}
