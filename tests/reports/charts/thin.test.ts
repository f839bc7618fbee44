import { describe, expect, it } from "vitest";
import { thin } from "../../../reports/charts/thin.ts";

const along = (row: number) => row;

describe("thin()", () => {
  it("gives few rows back as they are", () => {
    const rows = [1, 2, 3];
    expect(thin(rows, along, 2)).toBe(rows);
  });

  it("keeps the first and the last row of each strip (by hand: strips [0, 5), [5, 10])", () => {
    expect(thin([0, 1, 2, 4, 5, 6, 8, 10], along, 2)).toEqual([0, 4, 5, 10]);
  });

  it("keeps both ends of many rows and no more than two a strip", () => {
    const rows = Array.from({ length: 10_000 }, (_, index) => index ** 1.5);
    const kept = thin(rows, along, 300);
    expect(kept.length).toBeLessThanOrEqual(600);
    expect([kept[0], kept.at(-1)]).toEqual([rows[0], rows.at(-1)]);
  });

  it("keeps first and last of rows that all lie at one place", () => {
    expect(thin([7, 7, 7, 7, 7], along, 2)).toEqual([7, 7]);
  });
});
