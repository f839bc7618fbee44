import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const cell = (...common: string[]) =>
  fc.oneof(
    { weight: 20, arbitrary: fc.constantFrom(...common) },
    {
      weight: 1,
      arbitrary: fc.constantFrom("", " ", "?", "x", "-1", "31/02/2023", '"a\nb"', '"x,y"', '"a"b', "9".repeat(30), "é"),
    },
  );

const card = fc
  .tuple(
    cell("1", "2", "3", "4"),
    cell("FA-1", "FA-2"),
    cell("01/02/2023", "05/02/2023"),
    cell("03/02/2023", "09/02/2023"),
    cell("100", "1234.5", "-4"),
    cell("failed", "hours up"),
    cell("5", "0.13 mm", "99"),
    cell("Y", "N"),
    cell("bad", "good"),
  )
  .map((cells) => cells.join(","));

const row = fc.oneof(
  { weight: 12, arbitrary: card },
  {
    weight: 6,
    arbitrary: fc.constantFrom(
      "1,FA-1,01/02/2023,03/02/2023,100,failed,5,Y,bad",
      "1,FA-1,01/02/2023,03/02/2023,100,failed,6,Y,bad",
    ),
  },
  { weight: 1, arbitrary: card.map((text) => `${text},more`) },
  { weight: 1, arbitrary: fc.constantFrom("", ",,,,", "1,FA-1", CARD_HEADER, "Total: 9", ",".repeat(30)) },
);

const file = fc
  .tuple(fc.array(row, { maxLength: 40 }), fc.constantFrom("\n", "\r\n"))
  .map(([rows, end]) => [CARD_HEADER, ...rows, ""].join(end));

describe("the account of a file", () => {
  it("balances for any rows, over any files", async () => {
    const seen = { notData: 0, quarantined: 0, duplicate: 0, superseded: 0, corrected: 0, accepted: 0 };
    await fc.assert(
      fc.asyncProperty(fc.array(file, { minLength: 1, maxLength: 3 }), async (contents) => {
        const workspace = new ScratchWorkspace({ cards: `${CARDS}not_data: [{ column: Card, matches: "total.*" }]\n` });
        for (const [index, content] of contents.entries()) workspace.write(`exports/cards-${index}.csv`, content);
        for (const file of (await workspace.ingest()).files) {
          const { read, notData, quarantined, duplicate, superseded, corrected, accepted: taken } = file;
          expect(notData + quarantined + duplicate + superseded + corrected + taken).toBe(read);
          expect(Math.min(notData, quarantined, duplicate, superseded, corrected, taken)).toBeGreaterThanOrEqual(0);
          for (const outcome of Object.keys(seen) as (keyof typeof seen)[]) seen[outcome] += file[outcome];
        }
        const cards =
          "select fleet, card, count(*) from records.rebuild_row where standing = 'current' group by all having count(*) > 1";
        expect(await workspace.lines(cards)).toEqual([]);
        const twice =
          "select file_id, row from (select file_id, row from landing.set_aside union all select file_id, row from records.rebuild_row) group by all having count(*) > 1";
        expect(await workspace.lines(twice)).toEqual([]);
      }),
      { seed: 5, numRuns: 20 },
    );
    for (const [outcome, count] of Object.entries(seen)) expect(count, outcome).toBeGreaterThan(0); // it saw every outcome
  }, 240_000);
});
