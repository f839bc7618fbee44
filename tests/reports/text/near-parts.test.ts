import { describe, expect, it } from "vitest";
import { nearParts } from "../../../reports/text/near-parts.ts";

describe("nearParts()", () => {
  it("leads to all of a few pages", () => {
    expect(nearParts(1, 0)).toEqual([0]);
    expect(nearParts(24, 7)).toEqual(Array.from({ length: 24 }, (_, at) => at));
  });

  it.each([0, 1, 499, 500, 999])(
    "leads from page %i of a thousand to few, first, last and next ones among them",
    (at) => {
      const near = nearParts(1000, at);
      expect(near.length).toBeLessThanOrEqual(27);
      expect(new Set(near).size).toBe(near.length);
      expect(near).toEqual([...near].sort((one, other) => one - other));
      for (const next of [0, at - 1, at, at + 1, 999]) {
        if (next >= 0 && next < 1000) expect(near).toContain(next);
      }
    },
  );

  it("leads from each of many pages to the next one, so that every page is reached", () => {
    for (let at = 0; at + 1 < 300; at++) expect(nearParts(300, at)).toContain(at + 1);
  });
});
