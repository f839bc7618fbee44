import { describe, expect, it } from "vitest";
import { ColumnRoom } from "../../../src/stats/fit/column-room.ts";

describe("ColumnRoom", () => {
  it("gives columns of zeros of the wanted length, none of which shares a place with another", () => {
    const room = new ColumnRoom();
    const sizes = [3, 0, 30_000, 2700, 100_000, 1, 32_768, 5];
    const columns = sizes.map((size, at) => {
      const column = room.take(size);
      expect(column).toEqual(new Float64Array(size));
      return column.fill(at + 1);
    });
    for (const [at, column] of columns.entries()) expect(column).toEqual(new Float64Array(sizes[at]!).fill(at + 1));
  });
});
