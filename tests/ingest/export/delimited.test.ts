import { mkdirSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { fileFault } from "../../../src/ingest/export/file-fault.ts";
import { fingerprint } from "../../../src/ingest/export/fingerprint.ts";
import { readingOf } from "../../../src/ingest/export/reading.ts";
import { chosenSheets } from "../../../src/ingest/export/sheets.ts";
import { ExportsAtHand } from "./exports-at-hand.ts";

let exports: ExportsAtHand;
beforeAll(async () => {
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

const said = {
  encoding: "utf-8",
  decimal_mark: ".",
  format: undefined,
  delimiter: undefined,
  header: undefined,
  records: undefined,
} as const;

describe("readingOf()", () => {
  it.each([
    { path: "a/cards.csv", format: "csv", delimiter: "," },
    { path: "cards.CSV.gz", format: "csv", delimiter: "," },
    { path: "cards.tsv", format: "tsv", delimiter: "\t" },
    { path: "cards.xlsx", format: "xlsx", delimiter: "," },
    { path: "cards.json", format: "json", delimiter: "," },
    { path: "cards.jsonl.gz", format: "ndjson", delimiter: "," },
    { path: "cards.parquet", format: "parquet", delimiter: "," },
  ])("takes $format from $path", ({ path, format, delimiter }) => {
    expect(readingOf(said, path)).toEqual({ format, encoding: "utf-8", delimiter, decimalMark: "." });
  });

  it("takes what the pipeline says before the ending", () => {
    expect(readingOf({ ...said, format: "tsv", delimiter: "|", header: [3], records: "x" }, "cards.txt", "S")).toEqual({
      format: "tsv",
      encoding: "utf-8",
      delimiter: "|",
      decimalMark: ".",
      header: [3],
      records: "x",
      sheet: "S",
    });
  });

  it.each([
    {
      path: "cards.dat",
      message: 'Cannot read cards.dat: its ending, "dat", is of no format known here; set "format" in its pipeline',
    },
    { path: "cards", message: 'its ending, "", is of no format' },
    { path: "cards.xls", message: "save it as .xlsx" },
  ])("asks for the format of $path", ({ path, message }) => {
    expect(() => readingOf(said, path)).toThrow(message);
  });

  it("refuses a delimiter that can't be one", () => {
    expect(() => readingOf({ ...said, delimiter: '"' }, "cards.csv")).toThrow("can't part cells");
    expect(() => readingOf({ ...said, delimiter: "é" }, "cards.csv")).toThrow("another ASCII character");
  });
});

describe("the header", () => {
  const titled = "Saltmere fleet\n\nprinted,2024-01-05\nCard,Frame,Meter\nC1,SM1,5\n";

  it("is the first record that has every column wanted", async () => {
    const source = await exports.open("cards.csv", titled, { wanted: [["card "], ["Serial", "frame"], [3]] });
    expect(source).toMatchObject({ header: ["Card", "Frame", "Meter"], above: 2, headerRecords: 1, blanks: [2] });
    expect(source.reading.header).toEqual([4]);
    await source.close();
  });

  it("is the record that has most of them where none has all, and the first where none has any", async () => {
    expect((await exports.read("cards.csv", titled, { wanted: [["Card"], ["Frame"], ["Pump"]] })).header).toEqual([
      "Card",
      "Frame",
      "Meter",
    ]);
    expect((await exports.read("cards.csv", titled, { wanted: [["Pump"]] })).header).toEqual(["Saltmere fleet"]);
  });

  it("is looked for among the first 100 records", async () => {
    const at = (place: number) => `${"x,y\n".repeat(place - 1)}Card,Frame\nC1,SM1\n`;
    expect((await exports.read("cards.csv", at(100), { wanted: [["Card"]] })).rows).toEqual([["C1", "SM1"]]);
    expect((await exports.read("cards.csv", at(101), { wanted: [["Card"]] })).header).toEqual(["x", "y"]);
  });

  it("may be several rows, a title reaching to the next one", async () => {
    const text = "Unit,,Drive end,,\nCard,Frame,New,Found,Remarks\nC1,SM1,Y,bad,x\n";
    expect(await exports.read("cards.csv", text, { header: [1, 2] })).toEqual({
      header: ["Unit / Card", "Unit / Frame", "Drive end / New", "Drive end / Found", "Drive end / Remarks"],
      rows: [["C1", "SM1", "Y", "bad", "x"]],
    });
  });

  it("may be none", async () => {
    expect(await exports.read("cards.csv", "C1,SM1\nC2,SM2,x\n", { header: "none" })).toEqual({
      header: ["", "", ""],
      rows: [
        ["C1", "SM1", ""],
        ["C2", "SM2", "x"],
      ],
    });
  });

  it("named where nothing stands is refused", async () => {
    await expect(exports.open("cards.csv", titled, { header: [2] })).rejects.toThrow(
      'its row 2 is empty, but "header" in its pipeline names it',
    );
    await expect(exports.open("cards.csv", titled, { header: [40] })).rejects.toThrow("its row 40 is empty");
    await expect(exports.open("cards.csv", titled, { header: [1, 4] })).rejects.toThrow(
      "row 3 holds something and lies between the rows 1, 4",
    );
  });

  it.each([
    { text: "Card;Frame\nC1;SM1\n", mark: '";"', words: "semicolons" },
    { text: "Card\tFrame\nC1\tSM1\n", mark: '"\\t"', words: "tabs" },
  ])("that is one cell of $words says which delimiter it has", async ({ text, mark, words }) => {
    await expect(exports.open("cards.csv", text, { wanted: [["Card"]] })).rejects.toThrow(
      `which holds ${words}, not ","; set "delimiter: ${mark}" in its pipeline`,
    );
  });

  it("alone is a file without rows", async () => {
    expect(await exports.read("cards.csv", "Card,Frame\n", { wanted: [["Card"]] })).toEqual({
      header: ["Card", "Frame"],
      rows: [],
    });
  });
});

describe("cells far beyond the header", () => {
  it.each(["a,b\n", '"a",b\n'])("are kept in the last one that is looked at, below %j", async (header) => {
    const source = await exports.open(
      "cards.csv",
      `${header}1,2,${Array.from({ length: 12 }, (_, index) => `x${index}`).join(",")}\n`,
    );
    const read = await (
      await exports.store.connection.run(
        `select * from read_csv('${source.csvPath}', header = false, all_varchar = true, null_padding = true)`,
      )
    ).getRows();
    expect(read[1]).toEqual(["1", "2", "x0", "x1", "x2", "x3", "x4", "x5", "x6", "x7,x8,x9,x10,x11"]);
    await source.close();
  });
});

describe("encodings", () => {
  const text = "Card,Site\nC1,Öst – “quoted”\n";
  const wide = Buffer.from(text, "utf16le");

  it.each([
    { name: "UTF-8", encoding: "utf-8", content: Buffer.from(text) },
    { name: "UTF-8 with its mark", encoding: "utf-8", content: Buffer.from(`\ufeff${text}`) },
    { name: "UTF-16, little-endian", encoding: "utf-16", content: Buffer.concat([Buffer.from([0xff, 0xfe]), wide]) },
    {
      name: "UTF-16, big-endian",
      encoding: "utf-16",
      content: Buffer.concat([Buffer.from([0xff, 0xfe]), wide]).swap16(),
    },
    { name: "UTF-16 without its mark", encoding: "utf-16", content: wide },
    { name: "UTF-16, big-endian, without its mark", encoding: "utf-16", content: Buffer.from(wide).swap16() },
    {
      name: "Windows-1252",
      encoding: "windows-1252",
      content: Buffer.from("Card,Site\nC1,\xd6st \x96 \x93quoted\x94\n", "latin1"),
    },
  ] as const)("$name gives the same cells, packed or not", async ({ encoding, content }) => {
    const found = { header: ["Card", "Site"], rows: [["C1", "Öst – “quoted”"]] };
    expect(await exports.read("cards.csv", content, { encoding })).toEqual(found);
    expect(await exports.read("cards.csv", gzipSync(content), { encoding })).toEqual(found);
  });

  it("a quoted first header behind the byte order mark may hold a line end", async () => {
    const source = await exports.open("cards.csv", '\ufeff"Ca\nrd",B\r\n\r\n1,2\r\n');
    expect(source).toMatchObject({ header: ["Ca\nrd", "B"], blanks: [2], records: 2, broken: [] });
    await source.close();
  });

  it.each([
    {
      name: "UTF-16 read as UTF-8",
      content: Buffer.from("\ufeffCard\n", "utf16le"),
      encoding: "utf-8",
      message: 'byte order mark of UTF-16; set "encoding: utf-16"',
    },
    {
      name: "UTF-16 without a mark read as UTF-8",
      content: wide,
      encoding: "utf-8",
      message: "line 1 holds a zero byte",
    },
    {
      name: "a zero byte",
      content: "Card\nC1\nC\0\n",
      encoding: "utf-8",
      message: "line 3 holds a zero byte, which no text has",
    },
    {
      name: "a zero byte in latin-1",
      content: "Card\nC\0\n",
      encoding: "latin-1",
      message: "line 2 holds a zero byte",
    },
    {
      name: "Windows-1252 read as UTF-8",
      content: Buffer.from("Card\n\xd6\n\x93a\x94\n", "latin1"),
      encoding: "utf-8",
      message:
        'line 2 is not UTF-8, and line 3 holds the byte 93, as Windows-1252 has it; set "encoding: windows-1252"',
    },
    {
      name: "Latin-1 read as UTF-8",
      content: Buffer.from("Card\n\xd6st\n", "latin1"),
      encoding: "utf-8",
      message: 'line 2 is not UTF-8; set "encoding: latin-1"',
    },
    {
      name: "UTF-8 cut inside a character",
      content: Buffer.from("Card\nÖ").subarray(0, 6),
      encoding: "utf-8",
      message: "line 2 is not UTF-8",
    },
    { name: "UTF-8 read as UTF-16", content: "Card\nC1\n", encoding: "utf-16", message: "it is not UTF-16" },
    {
      name: "marked UTF-8 read as Windows-1252",
      content: "\ufeffCard\n",
      encoding: "windows-1252",
      message: 'set "encoding: utf-8"',
    },
    {
      name: "UTF-16 cut inside a character",
      content: wide.subarray(0, 11),
      encoding: "utf-16",
      message: "its UTF-16 is damaged or cut off",
    },
  ] as const)("$name says so", async ({ content, encoding, message }) => {
    await expect(exports.open("cards.csv", content, { encoding })).rejects.toThrow(message);
    expect(readdirSync(exports.scratch)).toEqual([]);
  });

  it("characters cut between the pieces that a file is read in are whole", async () => {
    for (const shift of [0, 1, 2, 3]) {
      const path = exports.write("cards.csv", `${"x".repeat((1 << 20) - 3 + shift)}😀é\n`);
      expect(await fingerprint(path)).toMatchObject({ utf8: true, plain: true, zeros: false });
    }
    expect(await fingerprint(exports.write("cards.csv", `${"x".repeat((1 << 20) - 1)}\n\nx`))).toMatchObject({
      plain: false,
    });
  });
});

describe("a file that can't be read", () => {
  it.each([
    { name: "is empty", content: "", message: "the file is empty, without even a header" },
    { name: "is packed and empty", content: gzipSync(""), message: "the file packed in it is empty" },
    { name: "holds only empty lines", content: "\n\r\n\n", message: "it holds only empty lines, no header" },
    { name: "is a workbook", content: "PK\x03\x04...", message: 'a zip file, as workbooks are; set "format: xlsx"' },
    { name: "is Parquet", content: "PAR1...", message: 'set "format: parquet"' },
    { name: "is a web page", content: "\n<!DOCTYPE html><table>", message: "a web page or XML under another name" },
    {
      name: "is an old workbook",
      content: Buffer.from("d0cf11e0a1b11ae1", "hex"),
      message: "(.xls), or one locked by a password",
    },
    { name: "is JSON", content: ' [ {"a":1}]', message: 'JSON; set "format: json"' },
    { name: "is lines of JSON", content: '{"a":1}\n{"a":2}\n', message: '"format: ndjson"' },
    { name: "is a PDF", content: "%PDF-1.7", message: "a PDF file" },
    { name: "is packed twice", content: gzipSync(gzipSync("Card\n")), message: "packed twice" },
    {
      name: "is cut off",
      content: gzipSync("Card\n".repeat(1000)).subarray(0, 30),
      message: "its gzip data end too early: the file is cut off",
    },
    {
      name: "is damaged",
      content: Buffer.concat([gzipSync("Card\n").subarray(0, 12), Buffer.from("damaged, at length")]),
      message: "its gzip data are damaged",
    },
    {
      name: "has a quote that isn't closed",
      content: 'Card\n"C1\n',
      message: "the quote that opens on line 2 is not closed",
    },
  ])("because it $name says so", async ({ content, message }) => {
    await expect(exports.open("cards.csv", content)).rejects.toThrow(message);
    await expect(exports.open("cards.csv", content)).rejects.toThrow(/^Cannot read cards\.csv.*[;,]/);
    expect(readdirSync(exports.scratch)).toEqual([]);
  });

  it.each([
    { name: "plain", text: `Card,Frame\r\n`.replace("\r", "") + "x,".repeat(2_000_000), line: 2 },
    { name: "quoted", text: `"Card",Frame\r\n\r\nC1,"${"x".repeat(5_000_000)}"\r\n`, line: 3 },
  ])("because a $name record never ends says where", async ({ text, line }) => {
    await expect(exports.open("cards.csv", text)).rejects.toThrow(
      `line ${line}: the record that begins there is over 2 MB long`,
    );
  });

  it("because it is a folder, or gone, or not to be read, says so", async () => {
    const folder = join(exports.folder, "folder.csv");
    mkdirSync(folder, { recursive: true });
    await expect(fingerprint(folder, "folder.csv")).rejects.toThrow(
      "Cannot read folder.csv: it is a folder, not a file",
    );
    await expect(chosenSheets(folder, "folder.csv", [1])).rejects.toThrow("it is a folder, not a file");
    await expect(fingerprint(join(exports.folder, "gone.csv"), "gone.csv")).rejects.toThrow(
      "Cannot read gone.csv: the file is there no longer",
    );
    const denied = Object.assign(new Error("EACCES: permission denied"), { code: "EACCES" });
    expect(fileFault("cards.csv", denied)).toMatchObject({
      name: "UserError",
      message: expect.stringContaining("permission denied"),
    });
    const other = new RangeError("ours");
    expect(fileFault("cards.csv", other)).toBe(other);
  });
});
