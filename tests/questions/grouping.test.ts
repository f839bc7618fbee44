import { describe, expect, it } from "vitest";
import { compareGroups } from "../../src/questions/grouping.ts";

describe("compareGroups()", () => {
  it("puts P2 before P10, an open band first, and what is not recorded last", () => {
    const sorted = (values: string[]) =>
      values
        .map((x) => ({ by: { x } }))
        .toSorted(compareGroups)
        .map(({ by }) => by.x);
    expect(sorted(["P10", "(not recorded)", "P2"])).toEqual(["P2", "P10", "(not recorded)"]);
    expect(sorted(["7 and over", "2 to 3.5", "under 2", "(not recorded)", "3.5 to 7"])).toEqual([
      "under 2",
      "2 to 3.5",
      "3.5 to 7",
      "7 and over",
      "(not recorded)",
    ]);
  });
});
