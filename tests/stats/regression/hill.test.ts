import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { hillOf } from "../../../src/stats/regression/hill.ts";
import { expectAgreement } from "../../agree.ts";

const size = 6;

describe("hillOf", () => {
  it("steps to the top as ml-matrix does", () => {
    const root = new Matrix(
      Array.from({ length: size }, (_, row) =>
        Array.from({ length: size }, (__, at) => Math.sin(7 * row + 3 * at + 1)),
      ),
    );
    const curvature = root.mmul(root.transpose()).add(Matrix.eye(size)).mul(1e5);
    const slope = Float64Array.from({ length: size }, (_, one) => Math.cos(one));
    const expected = new CholeskyDecomposition(curvature).solve(Matrix.columnVector(slope));
    const found = hillOf(
      Float64Array.from(curvature.to1DArray(), (value) => -value),
      size,
    )!(slope);
    for (let one = 0; one < size; one++) expectAgreement(found[one], expected.get(one, 0), { rel: 1e-11 });
  });

  it.each([
    { what: "a saddle", bend: [-1, 0, 0, 1] },
    { what: "a ridge", bend: [-1, -1, -1, -1] },
    { what: "no number", bend: [-1, Number.NaN, Number.NaN, -1] },
    { what: "without end", bend: [-1, 0, 0, Number.NEGATIVE_INFINITY] },
  ])("is none where the curvature is $what", ({ bend }) => {
    expect(hillOf(Float64Array.from(bend), 2)).toBeNull();
  });
});
