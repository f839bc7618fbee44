import { describe, expect, it } from "vitest";
import { checkCovariates, columnBasis, dependentColumn } from "../../../src/stats/regression/covariates.ts";

const column = (name: string, ...values: number[]) => ({ name, values: Float64Array.from(values) });

describe("dependentColumn", () => {
  const a = column("a", 1, 2, 4, 7, 1);
  const b = column("b", 0, 1, 0, 1, 1);

  it.each([
    { name: "columns that each tell something", columns: [a, b], found: null },
    { name: "a constant", columns: [a, column("c", 3, 3, 3, 3, 3)], found: { name: "c", of: [] } },
    { name: "a constant that rounds", columns: [column("c", 0.1, 0.1, 0.1, 0.1, 0.1)], found: { name: "c", of: [] } },
    // 3 a - 2 b + 5
    { name: "a sum of others", columns: [a, b, column("s", 8, 9, 17, 24, 6)], found: { name: "s", of: ["a", "b"] } },
    {
      name: "all levels of a group",
      columns: [b, column("not b", 1, 0, 1, 0, 0)],
      found: { name: "not b", of: ["b"] },
    },
    { name: "nearly, but not quite, another", columns: [a, column("d", 1, 2, 4, 7, 1.001)], found: null },
    {
      name: "tiny and huge scales",
      columns: [column("t", 1e-9, 2e-9, 0, 1e-9, 0), column("h", 1e9, 0, 1e9, 2e9, 0)],
      found: null,
    },
  ])("finds $name", ({ columns, found }) => {
    expect(dependentColumn(columns)).toEqual(found);
  });

  it("looks only at lives that count", () => {
    const last = column("last", 0, 0, 0, 0, 1);
    expect(dependentColumn([a, last])).toBe(null);
    expect(dependentColumn([a, last], Float64Array.of(1, 1, 2, 1, 0))).toEqual({ name: "last", of: [] });
  });
});

describe("columnBasis", () => {
  it("goes on after a column that follows from others, and a copy leaves it as it is", () => {
    const basis = columnBasis();
    const a = column("a", 1, 2, 4, 7, 1);
    const b = column("b", 0, 1, 0, 1, 1);
    expect(basis.take(a)).toBeNull();
    const other = basis.copy();
    expect(other.take(column("3 a", 3, 6, 12, 21, 3))).toEqual({ name: "3 a", of: ["a"] });
    expect(other.take(b)).toBeNull();
    // a + b
    const sum = column("sum", 1, 3, 4, 8, 2);
    expect(other.take(sum)).toEqual({ name: "sum", of: ["a", "b"] });
    expect(basis.take(sum)).toBeNull();
  });
});

describe("columnBasis within strata", () => {
  const stratum = Int32Array.of(0, 0, 0, 1, 1, 1);
  // by hand: in each stratum the second level is 1 less the first
  const first = column("a1", 1, 0, 1, 0, 0, 0);

  it("takes no column that is alike within each", () => {
    expect(columnBasis(undefined, stratum).take(column("b", 0, 0, 0, 1, 1, 1))).toEqual({ name: "b", of: [] });
  });

  it("takes the rest of a level once, and names only what it follows from", () => {
    const basis = columnBasis(undefined, stratum);
    // goes along with a1, so that a2 has a part in its direction; yet a2 follows from a1 alone
    expect(basis.take(column("x", 3, 1, 4, 1, 5, 9))).toBeNull();
    expect(basis.take(first)).toBeNull();
    expect(basis.take(column("a2", 0, 1, 0, 0, 0, 0))).toEqual({ name: "a2", of: ["a1"] });
    expect(basis.take(column("b1", 0, 0, 0, 1, 0, 1))).toBeNull();
  });
});

describe("checkCovariates", () => {
  it("names the column and the life", () => {
    expect(() => checkCovariates([column("end_play", 1, Number.NaN)], 2)).toThrow('"end_play": its value for life 1');
    expect(() => checkCovariates([column("lube", 1)], 2)).toThrow('"lube": found 1 values for 2 lives');
  });
});
