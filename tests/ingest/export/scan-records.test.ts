import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { columnsBeyond, csvSource, OVERFLOW } from "../../../src/ingest/export/csv-source.ts";
import { fingerprint } from "../../../src/ingest/export/fingerprint.ts";
import { openExport } from "../../../src/ingest/export/open-export.ts";
import { parseRecords } from "../../../src/ingest/export/parse-records.ts";
import { scanRecords } from "../../../src/ingest/export/scan-records.ts";
import { openMemory } from "../../../src/store/open-memory.ts";
import type { Store } from "../../../src/store/open-store.ts";

let folder: string;
let store: Store;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-scan-"));
  store = await openMemory();
});
afterAll(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

function written(text: string): string {
  const path = join(folder, "text.csv");
  writeFileSync(path, text);
  return path;
}

async function parsed(text: string, delimiter = ","): Promise<string[][]> {
  const records: string[][] = [];
  for await (const { cells } of parseRecords(written(text), delimiter)) records.push(cells);
  return records;
}

const well = { broken: [], quotedNewlines: false, odd: false };

describe("scanRecords()", () => {
  it.each([
    { text: "a,b\n1,2\n", found: { ...well, records: 2, blanks: [], widest: 2 } },
    { text: "a,b\n1,2", found: { ...well, records: 2, blanks: [], widest: 2 } },
    { text: "\n\na\n\n\nb\n\n", found: { ...well, records: 2, blanks: [1, 2, 4, 5, 7], widest: 1 } },
    { text: "a\r\n\r\nb\r\n", found: { ...well, records: 2, blanks: [2], widest: 1 } },
    { text: 'a,"x\ny"\n\nb\n', found: { ...well, records: 2, blanks: [2], quotedNewlines: true, widest: 2 } },
    { text: 'a,"say ""x"""\nb,x"y\n', found: { ...well, records: 2, blanks: [], widest: 2 } },
    { text: ',,\n"",\n', found: { ...well, records: 2, blanks: [], widest: 3 } },
    { text: "a\nb\r\n", found: { ...well, records: 2, blanks: [], odd: true, widest: 1 } },
    { text: "a\rb\r", found: { ...well, records: 2, blanks: [], odd: true, widest: 1 } },
    { text: 'a, "x" ,b\n', found: { ...well, records: 1, blanks: [], odd: true, widest: 3 } },
    { text: 'a\n"x"y,b\n', found: { ...well, records: 2, blanks: [], odd: true, broken: [2], widest: 2 } },
    { text: '"x"y,"x"y\n"x"y\n', found: { ...well, records: 2, blanks: [], odd: true, broken: [1, 2], widest: 2 } },
  ])("finds the records of $text", async ({ text, found }) => {
    expect(await scanRecords(written(text), ",")).toEqual(found);
  });

  it.each([
    { text: 'a,b\n1,"2\n3,4\n', line: 2 },
    { text: 'a,b\n\n1,"\n3,4\n5,"x",6\n', line: 3 }, // closes at the quote of line 5, with text behind
  ])("names the line of a quote that isn't closed in $text", async ({ text, line }) => {
    expect((await scanRecords(written(text), ",")).openQuoteLine).toBe(line);
  });

  it("keeps its place over the pieces that a large file is read in", async () => {
    const cell = "x".repeat(70_000);
    const text = `${`${cell},"${cell}\n${cell}"\n\n`.repeat(20)}end`;
    const scan = await scanRecords(written(text), ",");
    expect(scan.records).toBe(21);
    expect(scan.blanks).toHaveLength(20);
  });
});

describe("parseRecords()", () => {
  it.each([
    {
      text: "a,b\n1,2\n",
      records: [
        ["a", "b"],
        ["1", "2"],
      ],
    },
    {
      text: '\ufeffa,"b ""c"""\r\n\r\n"x\ny",\r\n',
      records: [
        ["a", 'b "c"'],
        ["x\ny", ""],
      ],
    },
    { text: 'a, "x, y" ,b\n', records: [["a", "x, y", "b"]] },
    { text: 'a\n"x"y,b\n', records: [["a"], ["xy", "b"]] },
    { text: "a\rb\r", records: [["a"], ["b"]] },
  ])("reads the cells of $text", async ({ text, records }) => {
    expect(await parsed(text)).toEqual(records);
  });
});

// Cells of the characters that matter to a reader, and texts made of them with every kind of line end and stray quote.
const piece = fc.constantFrom("a", "é", "1", " ", '"', '""', ",", "\n", "\r\n", "\r", '"x"', '"x\ny"', "\t");

describe("the scan, the parser and the engine's reader", () => {
  it("see the same records in any text", async () => {
    const lengths = (records: string[][]) => records.length;
    await fc.assert(
      fc.asyncProperty(fc.array(piece, { minLength: 1, maxLength: 30 }), async (pieces) => {
        const text = `h1,h2\n${pieces.join("")}`;
        const path = written(text);
        const scan = await scanRecords(path, ",");
        if (scan.openQuoteLine !== undefined) return;
        const records = await parsed(text);
        expect(lengths(records)).toBe(scan.records);
        const mark = await fingerprint(path);
        const source = await openExport({
          path,
          shownPath: path,
          reading: { format: "csv", encoding: "utf-8", delimiter: ",", decimalMark: "." },
          wanted: [],
          mark,
          scratch: folder,
        });
        const read = await (await store.connection.run(`select columns(*) from ${csvSource(source)}`)).getRows();
        await source.close();
        expect(read.length).toBe(scan.records);
        expect(source.records).toBe(scan.records);
        const cells = (found: (unknown | null)[]) => found.map((cell) => String(cell ?? "").trim());
        const width = source.header.length + columnsBeyond(source);
        const rest = source.header.length + OVERFLOW - 1;
        const padded = (record: string[]) =>
          cells(Array.from({ length: width }, (_, at) => (at === rest ? record.slice(at).join(",") : record[at])));
        expect(source.fits === true).toBe(records.every((record) => record.length <= source.header.length));
        expect(read.map((row) => cells(row))).toEqual(records.map(padded));
      }),
      { seed: 11, numRuns: 400 },
    );
  });
});
