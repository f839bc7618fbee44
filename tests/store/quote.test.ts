import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { quoteIdentifier, quoteText } from "../../src/store/quote.ts";

let store: Store;
beforeAll(async () => {
  store = await openMemory();
});
afterAll(() => store.close());

const text = fc.string({ unit: "grapheme", minLength: 1, maxLength: 20 }).filter((found) => !found.includes("\0"));

describe("quoteIdentifier() and quoteText()", () => {
  it("give back any name and any text unchanged through the engine", async () => {
    await fc.assert(
      fc.asyncProperty(text, text, async (name, value) => {
        const result = await store.connection.run(`select ${quoteText(value)} as ${quoteIdentifier(name)}`);
        expect(result.columnNames()).toEqual([name]);
        expect(await result.getRows()).toEqual([[value]]);
      }),
      { seed: 20, numRuns: 200 },
    );
  });

  it.each([`a"; drop table x; --`, `'); attach 'x' as y; --`, "back\\slash", "$name", "?"])(
    "keep %s harmless",
    async (nasty) => {
      const result = await store.connection.run(`select ${quoteText(nasty)} as ${quoteIdentifier(nasty)}`);
      expect(result.columnNames()).toEqual([nasty]);
      expect(await result.getRows()).toEqual([[nasty]]);
    },
  );

  it("refuse a NUL character, which the engine can't hold in a statement", () => {
    expect(() => quoteIdentifier("a\0b")).toThrow(RangeError);
    expect(() => quoteText("a\0b")).toThrow(RangeError);
  });
});
