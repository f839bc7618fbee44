import { createWriteStream, statSync, truncateSync } from "node:fs";
import { join } from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createGzip } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { fingerprint } from "../../../src/ingest/export/fingerprint.ts";
import { openExport } from "../../../src/ingest/export/open-export.ts";
import type { Reading } from "../../../src/ingest/export/reading.ts";
import { quoteText } from "../../../src/store/quote.ts";
import { ExportsAtHand } from "./exports-at-hand.ts";
import { bookParts, rowXml } from "./workbook-bytes.ts";
import { zipBytes } from "./zip-bytes.ts";

let exports: ExportsAtHand;
beforeAll(async () => {
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

/** Opens a file of the folder, and gives by how many megabytes the process grew at most meanwhile, in steps of a tenth of a second. */
async function opened(
  name: string,
  format: Reading["format"],
): Promise<{ failure: string; records?: number; grown: number }> {
  const path = join(exports.folder, name);
  globalThis.gc?.();
  const before = process.memoryUsage().rss;
  let most = before;
  const watch = setInterval(() => {
    most = Math.max(most, process.memoryUsage().rss);
  }, 100);
  const reading: Reading = { format, encoding: "utf-8", delimiter: ",", decimalMark: "." };
  const grown = () => Math.round((most - before) / 1e6);
  try {
    const mark = await fingerprint(path, name);
    const source = await openExport({
      path,
      shownPath: name,
      reading,
      wanted: [["Card"]],
      mark,
      scratch: exports.scratch,
    });
    await source.close();
    return source.records === undefined
      ? { failure: "", grown: grown() }
      : { failure: "", records: source.records, grown: grown() };
  } catch (error) {
    return { failure: error instanceof Error ? error.message : String(error), grown: grown() };
  } finally {
    clearInterval(watch);
  }
}

async function write(name: string, content: Iterable<string | Buffer>, packed = false): Promise<void> {
  const out = createWriteStream(join(exports.folder, name));
  await (packed ? pipeline(Readable.from(content), createGzip(), out) : pipeline(Readable.from(content), out));
}

function* repeated(head: string, piece: string | Buffer, times: number): Generator<string | Buffer> {
  yield head;
  for (let time = 0; time < times; time++) yield piece;
}

describe("bombs", () => {
  it("in gzip are stopped at the most that an export of their size becomes", async () => {
    await write("bomb.csv.gz", repeated("Card\n", Buffer.alloc(1 << 20, "x\n"), 1000), true);
    expect(statSync(join(exports.folder, "bomb.csv.gz")).size).toBeLessThan(2_000_000);
    const { failure, grown } = await opened("bomb.csv.gz", "csv");
    expect(failure).toMatch(/^Cannot read bomb\.csv\.gz: unpacked, it is over \d+ MB.*;/);
    expect(grown).toBeLessThan(300);
  });

  it.each(["xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "xl/workbook.xml"])(
    "in a workbook's %s too",
    async (part) => {
      const parts: Record<string, string | Buffer> = bookParts({ sheets: [{ name: "S", rows: rowXml(1, ["Card"]) }] });
      const filler = "<a/>".repeat(1 << 18);
      parts[part] = Buffer.concat([
        Buffer.from("<a>"),
        ...Array.from({ length: 400 }, () => Buffer.from(filler)),
        Buffer.from("</a>"),
      ]);
      exports.write("bomb.xlsx", zipBytes(parts));
      const { failure, grown } = await opened("bomb.xlsx", "xlsx");
      expect(failure).toMatch(/^Cannot read bomb\.xlsx: unpacked, its part .* goes over \d+ MB/);
      expect(grown).toBeLessThan(300);
    },
  );

  it("of one text without an end in a workbook are stopped", async () => {
    const parts: Record<string, string | Buffer> = bookParts({ sheets: [{ name: "S", rows: "" }] });
    const sheet = [
      Buffer.from('<worksheet><sheetData><row r="1"><c t="str"><v>'),
      Buffer.alloc(200 * (1 << 20), "x"),
      Buffer.from("</v></c></row></sheetData></worksheet>"),
    ];
    parts["xl/worksheets/sheet1.xml"] = Buffer.concat(sheet);
    exports.write("text.xlsx", zipBytes(parts));
    const { failure } = await opened("text.xlsx", "xlsx");
    expect(failure).toMatch(/a text in its part .* is over 67 MB/);
  });

  it("in Parquet are stopped", async () => {
    const path = join(exports.folder, "bomb.parquet");
    await exports.store.connection.run(
      `copy (select repeat('x', 100000) as "Card" from range(20000)) to ${quoteText(path)} (format parquet, compression zstd, row_group_size 2048)`,
    );
    const { failure } = await opened("bomb.parquet", "parquet");
    expect(failure).toMatch(/^Cannot read bomb\.parquet: as text it is over [\d,]+ MB/);
  });
});

describe("a file of 2 GB", () => {
  it("of zeros is refused at its first line", async () => {
    exports.write("zeros.csv", "Card\n");
    truncateSync(join(exports.folder, "zeros.csv"), 2_000_000_000);
    const { failure, grown } = await opened("zeros.csv", "csv");
    expect(failure).toContain("line 2 holds a zero byte");
    expect(grown).toBeLessThan(300);
  });

  it.each([
    {
      name: "line.csv",
      format: "csv",
      head: "Card,",
      message: "line 1: the record that begins there is over 2 MB long",
    },
    {
      name: "line.ndjson",
      format: "ndjson",
      head: '{"Card":"',
      message: "line 1: the line is longer than a record may be; records may have 67 MB",
    },
    { name: "line.json", format: "json", head: '[{"Card":"', message: "line 1: a record is longer than one may be" },
  ] as const)("in one line ($format) is refused, with bounded memory", async ({ name, format, head, message }) => {
    await write(name, repeated(head, Buffer.alloc(1 << 20, "x"), 2000));
    const { failure, grown } = await opened(name, format);
    expect(failure).toContain(message);
    expect(grown).toBeLessThan(700);
  });
});

describe("memory", () => {
  const fields = Array.from({ length: 22 }, (_, index) => `F${index}`);

  it.each(["json", "ndjson"] as const)("does not grow with the size of %s", async (format) => {
    const record = JSON.stringify(Object.fromEntries(["Card", ...fields].map((name) => [name, `value of ${name}`])));
    const [open, between, close] = format === "json" ? ["[", ",\n", "]"] : ["", "\n", "\n"];
    const many = `${between}${record}`.repeat(1000);
    function* text() {
      yield `${open}${record}`;
      for (let thousand = 0; thousand < 300; thousand++) yield many;
      yield close;
    }
    await write(`many.${format}`, text());
    const { records, grown } = await opened(`many.${format}`, format);
    expect(records).toBe(300_001);
    expect(grown).toBeLessThan(300);
  });

  it("for a workbook of 100,000 rows and 22 columns grows by less than 300 MB", async () => {
    const header = rowXml(1, ["Card", ...fields.slice(1)]);
    const rows = Array.from({ length: 100_000 }, (_, row) =>
      rowXml(
        row + 2,
        fields.map((name, column) => (column % 2 === 0 ? row + column : `${name} ${row}`)),
      ),
    );
    exports.write("large.xlsx", zipBytes(bookParts({ sheets: [{ name: "S", rows: header + rows.join("") }] })));
    rows.length = 0;
    const { records, grown } = await opened("large.xlsx", "xlsx");
    expect(records).toBe(100_001);
    expect(grown).toBeLessThan(300);
  });
});
