import { gzipSync } from "node:zlib";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Reading } from "../../../src/ingest/export/reading.ts";
import { quoteText } from "../../../src/store/quote.ts";
import { ExportsAtHand } from "./exports-at-hand.ts";
import { bookBytes, rowXml } from "./workbook-bytes.ts";

let exports: ExportsAtHand;
beforeAll(async () => {
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

// Cells of what matters to some reader; all of it is in Windows-1252. A carriage return is no character that XML keeps.
const piece = fc.constantFrom(
  "a",
  "É",
  "–",
  "1",
  "0.10",
  "00457",
  "1E5",
  " ",
  '"',
  ",",
  ";",
  "\t",
  "\n",
  "=A1",
  "#N/A",
  "<b>",
  "&amp;",
  "'",
  "\\",
  "{",
  "null",
);
const cell = fc.oneof(
  { weight: 1, arbitrary: fc.constant("") },
  { weight: 3, arbitrary: fc.array(piece, { maxLength: 5 }).map((pieces) => pieces.join("")) },
);
const table = fc
  .integer({ min: 1, max: 4 })
  .chain((width) => fc.array(fc.array(cell, { minLength: width, maxLength: width }), { maxLength: 6 }));

type Written = { content: string | Buffer; reading: Partial<Reading> };
type Writer = (header: string[], rows: string[][]) => Written | Promise<Written>;

const delimited = (header: string[], rows: string[][], mark: string) =>
  [header, ...rows].map((cells) => `${cells.map((text) => `"${text.replaceAll('"', '""')}"`).join(mark)}\n`).join("");

const objects = (header: string[], rows: string[][]) =>
  rows.map((cells) =>
    JSON.stringify(Object.fromEntries(header.map((name, index) => [name, cells[index] === "" ? null : cells[index]]))),
  );

/** Windows-1252 by hand: the one character of the pieces that differs from Latin-1 is the dash, 96 (WHATWG Encoding Standard). */
const windows = (text: string) => Buffer.from(text.replaceAll("–", "\u0096"), "latin1");

const writers: Record<string, Writer> = {
  csv: (header, rows) => ({ content: delimited(header, rows, ","), reading: { format: "csv" } }),
  "csv with semicolons, packed": (header, rows) => ({
    content: gzipSync(delimited(header, rows, ";")),
    reading: { format: "csv", delimiter: ";" },
  }),
  tsv: (header, rows) => ({ content: delimited(header, rows, "\t"), reading: { format: "tsv", delimiter: "\t" } }),
  "utf-16": (header, rows) => ({
    content: Buffer.from(`\ufeff${delimited(header, rows, ",")}`, "utf16le"),
    reading: { format: "csv", encoding: "utf-16" },
  }),
  "windows-1252": (header, rows) => ({
    content: windows(delimited(header, rows, ",")),
    reading: { format: "csv", encoding: "windows-1252" },
  }),
  xlsx: (header, rows) => ({
    content: bookBytes({
      sheets: [{ name: "S", rows: [header, ...rows].map((cells, at) => rowXml(at + 1, cells)).join("") }],
    }),
    reading: { format: "xlsx" },
  }),
  json: (header, rows) => ({ content: `[${objects(header, rows).join(",\n")}]`, reading: { format: "json" } }),
  "ndjson, packed": (header, rows) => ({
    content: gzipSync(objects(header, rows).join("\n")),
    reading: { format: "ndjson" },
  }),
  parquet: async (header, rows) => {
    const path = `${exports.folder}/made.parquet`;
    const values = [header, ...rows].map(
      (cells) => `(${cells.map((text) => (text === "" ? "null" : quoteText(text))).join(", ")})`,
    );
    const names = header.map((name) => `"${name}"`).join(", ");
    await exports.store.connection.run(
      `copy (from (values ${values.join(", ")}) t(${names}) offset 1) to ${quoteText(path)} (format parquet)`,
    );
    const { readFileSync } = await import("node:fs");
    return { content: readFileSync(path), reading: { format: "parquet" } };
  },
};

describe("a table", () => {
  it.each(Object.entries(writers))("written as %s opens to the same cells, by the same numbers", async (_, write) => {
    await fc.assert(
      fc.asyncProperty(table, async (rows) => {
        const header = Array.from({ length: rows[0]?.length ?? 2 }, (_, index) => `Column ${index}`);
        const { content, reading } = await write(header, rows);
        // Lines of nothing are no file of lines; that is tested by itself.
        if (reading.format === "ndjson" && rows.length === 0) return;
        const source = await exports.open("table", content, { ...reading, wanted: header.map((name) => [name]) });
        const read = await exports.table(source);
        const { above, headerRecords, blanks } = source;
        await source.close();
        expect(source.header).toEqual(header);
        expect(read.length).toBe(source.records);
        // A sheet's empty rows are blanks, and below its last filled row there are none: put back, they are what was written.
        const found: string[][] = read.slice(above + headerRecords);
        for (const row of blanks)
          found.splice(
            row - headerRecords - 1,
            0,
            header.map(() => ""),
          );
        while (reading.format === "xlsx" && found.length < rows.length) found.push(header.map(() => ""));
        expect(found).toEqual(rows);
      }),
      { seed: 20_240_131, numRuns: 40 },
    );
  });
});
