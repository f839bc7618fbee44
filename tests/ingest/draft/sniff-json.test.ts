import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { jsonOfStart } from "../../../src/ingest/draft/json-start.ts";
import { sniffLines, sniffRecords } from "../../../src/ingest/draft/sniff-json.ts";

const cards = Array.from({ length: 60 }, (_, index) => ({
  card: `J${index}`,
  unit: "F1",
  removed: "2024-02-03",
  note: 'a "quoted" [mark',
}));
const withParts = cards.map((card) => ({ ...card, parts: [{ slot: "DE" }, { slot: "PE" }] }));
const few = [{ id: 1 }, { id: 2 }];

/** The path of records in a value, when a file over `most` bytes is looked at by its first quarter of that. */
async function pathIn(value: unknown, most: number): Promise<{ value: string | undefined; evidence: string }> {
  const folder = mkdtempSync(join(tmpdir(), "framelife-json-"));
  try {
    const path = join(folder, "a.json");
    writeFileSync(path, JSON.stringify(value));
    return await sniffRecords(path, "a.json", "utf-8", most);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe("sniffRecords()", () => {
  it.each([
    { what: "a list", value: cards, path: undefined },
    { what: "a list in objects", value: { made: "today", data: { sites: few, cards } }, path: "data.cards" },
    { what: "a list in each record", value: { data: { cards: withParts } }, path: "data.cards[].parts" },
    { what: "a key with a dot", value: { "v1.2": { cards } }, path: "v1\\.2.cards" },
  ])("finds $what in a large file by its start, as in a small one", async ({ value, path }) => {
    expect((await pathIn(value, 1 << 20)).value).toBe(path);
    const large = await pathIn(value, 4000);
    expect(large.value).toBe(path);
    expect(large.evidence).toContain("by the first 0.001 MB of the file alone");
  });

  it("takes the list that goes on where the start ends for the records, not a longer one before", async () => {
    const names = Array.from({ length: 20 }, (_, id) => ({ id }));
    expect((await pathIn({ names, cards }, 4000)).value).toBe("cards");
  });

  it("says so where the start holds no list", async () => {
    await expect(pathIn({ title: "x".repeat(3000), cards }, 4000)).rejects.toThrow(
      "Cannot draft a pipeline for a.json: its first 0.001 MB hold no list of records, and the rest was not looked at",
    );
  });
});

describe("jsonOfStart()", () => {
  it("is the whole value of a whole text, and a value for each start of it", () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.array(fc.jsonValue()), fc.dictionary(fc.string(), fc.jsonValue())),
        fc.nat(),
        (value, cut) => {
          const text = JSON.stringify(value);
          expect(jsonOfStart(text)).toEqual(JSON.parse(text));
          const start = jsonOfStart(text.slice(0, 1 + (cut % text.length)));
          expect(Array.isArray(start)).toBe(Array.isArray(value));
        },
      ),
      { seed: 20261125 },
    );
  });

  it("keeps what is there as a whole", () => {
    expect(jsonOfStart('{"a":[{"b":1,"c":"x,]')).toEqual({ a: [{ b: 1 }] });
    expect(jsonOfStart('[{"b":1},{"b":')).toEqual([{ b: 1 }, {}]);
    expect(jsonOfStart("nothing")).toBeUndefined();
  });
});

describe("sniffLines()", () => {
  const linesOf = (records: unknown[]) => records.map((record) => `${JSON.stringify(record)}\n`).join("");

  it.each([
    { what: "none", text: linesOf(cards), value: undefined },
    { what: "a list in each record", text: linesOf(withParts), value: "[].parts" },
    { what: "a list, where the last line is cut", text: linesOf(withParts).slice(0, -20), value: "[].parts" },
    { what: "none where no line is whole", text: '{"card":', value: undefined },
  ])("finds $what", ({ text, value }) => {
    expect(sniffLines(text).value).toBe(value);
  });
});
