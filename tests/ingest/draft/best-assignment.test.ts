import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bestAssignment } from "../../../src/ingest/draft/best-assignment.ts";

/** The greatest sum over all ways of pairing, by trying them all. */
function bySearch(scores: number[][], row = 0, taken: ReadonlySet<number> = new Set()): number {
  if (row === scores.length) return 0;
  const alone = bySearch(scores, row + 1, taken);
  const paired = scores[row]!.map((score, column) =>
    score > 0 && !taken.has(column) ? score + bySearch(scores, row + 1, new Set([...taken, column])) : 0,
  );
  return Math.max(alone, ...paired);
}

const table = fc.integer({ min: 1, max: 5 }).chain((width) =>
  fc.array(fc.array(fc.integer({ min: -3, max: 9 }), { minLength: width, maxLength: width }), {
    minLength: 1,
    maxLength: 5,
  }),
);

describe("bestAssignment()", () => {
  it("reaches the sum that a search of all pairings finds", () => {
    fc.assert(
      fc.property(table, (scores) => {
        const chosen = bestAssignment(scores);
        const columns = chosen.filter((column) => column >= 0);
        expect(new Set(columns).size).toBe(columns.length);
        const sum = chosen.reduce((total, column, row) => total + (column < 0 ? 0 : scores[row]![column]!), 0);
        expect(sum).toBe(bySearch(scores));
      }),
      { seed: 20261125 },
    );
  });

  it("gives nothing where there is nothing", () => {
    expect(bestAssignment([])).toEqual([]);
    expect(bestAssignment([[], []])).toEqual([-1, -1]);
  });
});
