import { readdirSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { chosenSheets } from "../../../src/ingest/export/sheets.ts";
import { ExportsAtHand } from "./exports-at-hand.ts";
import { type Book, bookBytes, bookParts, rowXml, type Sheet } from "./workbook-bytes.ts";
import { zipBytes } from "./zip-bytes.ts";

let exports: ExportsAtHand;
beforeAll(async () => {
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

const xlsx = { format: "xlsx" } as const;
const one = (rows: string, more: Partial<Sheet> = {}): Book => ({ sheets: [{ name: "Cards", rows, ...more }] });
const read = (book: Book, how = {}) => exports.read("cards.xlsx", bookBytes(book), { ...xlsx, ...how });
const opened = (book: Book, how = {}) => exports.open("cards.xlsx", bookBytes(book), { ...xlsx, ...how });

/** The text of one cell, given as XML after its place, under a header "A". */
async function cell(xml: string, book: Partial<Book> = {}, how = {}): Promise<string | undefined> {
  const rows = `<row r="1"><c r="A1" t="str"><v>A</v></c></row><row r="2"><c r="A2" ${xml}</c></row><row r="3"><c r="A3"><v>7</v></c></row>`;
  return (await read({ ...one(rows), ...book }, how)).rows[0]?.[0];
}

describe("days of a workbook", () => {
  // Built-in format 14 is a date, 22 a date with a time, 18 to 21 times of day, 46 hours beyond a day (ECMA-376, part 1, 18.8.30).
  it.each([
    // 2024-01-01: 124 years of 365 days and 31 leap days (1900 has none, but the system counts one) since day 1 = 1900-01-01: 45,260 + 31 + 1
    { serial: 45_292, text: "2024-01-01", source: "by hand" },
    { serial: 1, text: "1900-01-01", source: "ECMA-376, part 1, 18.17.4.1" },
    { serial: 59, text: "1900-02-28", source: "by hand: 31 + 28" },
    { serial: 60, text: "1900-02-29", source: "ECMA-376: a day that never was, kept to be seen" },
    { serial: 61, text: "1900-03-01", source: "by hand: 31 + 29 + 1" },
    { serial: 2_958_465, text: "9999-12-31", source: "ECMA-376, part 1, 18.17.4.1" },
    { serial: 45_292.75, text: "2024-01-01 18:00:00", source: "by hand: 0.75 x 24 h" },
    { serial: 45_291.999999, text: "2024-01-01", source: "by hand: 0.09 s before midnight is midnight" },
    { serial: 2_958_466, text: "2958466", source: "by hand: the day after the last is no day" },
    { serial: -1, text: "-1", source: "by hand: no day" },
  ])("count from 1900: $serial is $text ($source)", async ({ serial, text }) => {
    expect(await cell(`s="1"><v>${serial}</v>`, { formats: [14] })).toBe(text);
  });

  it.each([
    { serial: 43_830, text: "2024-01-01", source: "by hand: 45,292 - 1,462" },
    { serial: 0, text: "1904-01-01", source: "ECMA-376, part 1, 18.17.4.1" },
    { serial: 59.5, text: "1904-02-29 12:00:00", source: "by hand: 31 + 28 days after 1904-01-01" },
  ])("count from 1904 where the workbook says so: $serial is $text ($source)", async ({ serial, text }) => {
    expect(await cell(`s="1"><v>${serial}</v>`, { formats: ["yyyy-mm-dd"], date1904: true })).toBe(text);
    const source = await opened({ ...one(rowXml(1, ["A"])), date1904: true });
    expect(source.dateSystem).toBe(1904);
    await source.close();
  });

  it.each([
    { format: "dd/mm/yyyy", text: "2024-01-01 06:00:00" },
    { format: '[$-809]d "day" mmmm', text: "2024-01-01 06:00:00" },
    { format: "mmm-yy;@", text: "2024-01-01 06:00:00" },
    { format: 22, text: "2024-01-01 06:00:00" },
    { format: "h:mm AM/PM", text: "2024-01-01 06:00:00" },
    { format: "General", text: "45292.25" },
    { format: '0.00 "days"', text: "45292.25" },
    { format: "#,##0.00 \\h", text: "45292.25" },
    { format: "[Red]0.0", text: "45292.25" },
    { format: "@", text: "45292.25" },
    { format: "[h]:mm", text: "1087014:00:00" }, // by hand: 45292 x 24 + 6
  ])("are known by the format $format", async ({ format, text }) => {
    expect(await cell('s="1"><v>45292.25</v>', { formats: [format] })).toBe(text);
  });

  it.each([
    { format: 20, value: 0.75, text: "18:00:00" },
    { format: "[h]:mm", value: 1.5, text: "36:00:00" },
    { format: 46, value: -0.25, text: "-06:00:00" },
  ])("may be times alone: $value as $format is $text", async ({ format, value, text }) => {
    expect(await cell(`s="1"><v>${value}</v>`, { formats: [format] })).toBe(text);
  });

  it("kept as text of the standard lose an empty time", async () => {
    expect(await cell('t="d"><v>2024-01-01T00:00:00</v>')).toBe("2024-01-01");
    expect(await cell('t="d"><v>2024-01-01T06:30:00Z</v>')).toBe("2024-01-01 06:30:00");
  });
});

describe("numbers of a workbook", () => {
  it.each([
    { raw: "4", text: "4" },
    { raw: "-12.50", text: "-12.5" },
    { raw: "4.0000000000000001E-3", text: "0.004" },
    { raw: "0.30000000000000004", text: "0.3" }, // 15 figures: the 4 is the 17th
    { raw: "1E-7", text: "0.0000001" },
    { raw: "-1.5E-9", text: "-0.0000000015" },
    { raw: "123456789012345", text: "123456789012345" },
    { raw: "1.23456789012346E+17", text: "1.23456789012346E+17" },
    { raw: "999999999999999.9", text: "1E+15" }, // 16 figures, rounded to 15
    { raw: "1E3", text: "1000" },
    { raw: "1E-300", text: "1E-300" },
  ])("are written plainly: $raw is $text", async ({ raw, text }) => {
    expect(await cell(`><v>${raw}</v>`)).toBe(text);
  });

  it("take the pipeline's decimal mark", async () => {
    expect(await cell("><v>5.25</v>", {}, { decimalMark: "," })).toBe("5,25");
  });

  it("keep the zeros that their format puts before them, and no format rounds", async () => {
    expect(await cell('s="1"><v>457</v>', { formats: ["00000"] })).toBe("00457");
    expect(await cell('s="1"><v>123456</v>', { formats: ["00000"] })).toBe("123456");
    expect(await cell('s="1"><v>4.75</v>', { formats: ["0"] })).toBe("4.75");
  });
});

describe("cells of a workbook", () => {
  it.each([
    { xml: 't="b"><v>1</v>', text: "TRUE" },
    { xml: 't="b"><v>0</v>', text: "FALSE" },
    { xml: 't="e"><v>#REF!</v>', text: "#REF!" },
    { xml: 't="inlineStr"><is><t> 00457 </t></is>', text: " 00457 " },
    {
      xml: 't="inlineStr"><is><r><t>two</t></r><r><t> runs</t></r><rPh sb="0" eb="1"><t>aid</t></rPh></is>',
      text: "two runs",
    },
    { xml: 't="inlineStr"><is><t>one\ntwo_x000D_</t></is>', text: "one\ntwo\r" },
    { xml: 't="str"><v>a &lt;b&gt; &amp; "c", d</v>', text: 'a <b> & "c", d' },
    { xml: 't="s"><v>1</v>', text: "shared text" },
    { xml: "><f>B2*2</f><v>10</v>", text: "10" },
    { xml: "><f>HYPERLINK(&quot;x&quot;)</f>", text: '=HYPERLINK("x")' },
    { xml: 't="str"><f>"a"&amp;"b"</f><v>ab</v>', text: "ab" },
    { xml: "><![CDATA[]]><v>5</v>", text: "5" },
  ])("are their text: $xml", async ({ xml, text }) => {
    expect(await cell(xml, { strings: ["<t>other</t>", "<r><t>shared </t></r><r><t>text</t></r>"] })).toBe(text);
  });

  it("share a formula that stands at the first of them", async () => {
    const rows = `${rowXml(1, ["A"])}<row r="2"><c r="A2"><f t="shared" ref="A2:A3" si="0">B2+1</f></c></row><row r="3"><c r="A3"><f t="shared" si="0"/></c></row>`;
    expect((await read(one(rows))).rows).toEqual([["=B2+1"], ["=B2+1"]]);
  });

  it("that are merged in the body have the value at their top left alone", async () => {
    const rows = rowXml(1, ["A", "B"]) + rowXml(2, ["x", "y"]) + rowXml(3, ["", "z"]);
    expect((await read(one(rows, { merged: ["A2:A3"] }))).rows).toEqual([
      ["x", "y"],
      ["", "z"],
    ]);
  });

  it("may come without their places, in rows without theirs, with a prefix before every name", async () => {
    const parts = bookParts(one(""));
    parts["xl/worksheets/sheet1.xml"] =
      '<x:worksheet xmlns:x="urn:any"><x:sheetData><x:row><x:c t="str"><x:v>A</x:v></x:c><x:c t="str"><x:v>B</x:v></x:c></x:row><x:row><x:c><x:v>1</x:v></x:c><x:c><x:v>2</x:v></x:c></x:row></x:sheetData></x:worksheet>';
    expect(await exports.read("cards.xlsx", zipBytes(parts), xlsx)).toEqual({ header: ["A", "B"], rows: [["1", "2"]] });
  });
});

describe("rows of a workbook", () => {
  const rows = rowXml(2, ["Saltmere, printed 2024-01-05"]) + rowXml(4, ["Card", "Frame"]) + rowXml(5, ["C1", "SM1"]);
  const gap = `${rows}<row r="6"><c r="A6" s="0"/></row>${rowXml(8, ["C2", "SM2"])}<row r="900"><c r="B900"/></row>`;

  it("keep the numbers of the sheet: empty ones are blanks, those below the last filled one are none", async () => {
    const source = await opened(one(gap), { wanted: [["card"], ["Frame", "Serial"]] });
    expect(source).toMatchObject({
      header: ["Card", "Frame"],
      above: 1,
      headerRecords: 1,
      records: 4,
      blanks: [1, 3, 6, 7],
    });
    expect(source.reading.header).toEqual([4]);
    await source.close();
    expect(readdirSync(exports.scratch)).toEqual([]);
  });

  it("that are hidden are read", async () => {
    const hidden = rowXml(2, ["C1"]).replace("<row", '<row hidden="1"');
    expect((await read(one(rowXml(1, ["Card"]) + hidden))).rows).toEqual([["C1"]]);
  });

  it("of two header rows are joined, a title over the columns that it is merged over", async () => {
    const two =
      rowXml(1, ["Card", "Drive end", "", "Remarks"]) +
      rowXml(2, ["", "New", "Found", ""]) +
      rowXml(3, ["C1", "Y", "bad", "x"]);
    const merged = ["A1:A2", "B1:C1"];
    expect(await read(one(two, { merged }), { header: [1, 2] })).toEqual({
      header: ["Card", "Drive end / New", "Drive end / Found", "Remarks"],
      rows: [["C1", "Y", "bad", "x"]],
    });
    expect((await read(one(two), { header: [1, 2] })).header).toEqual(["Card", "Drive end / New", "Found", "Remarks"]);
  });

  it("without a header have blank names, as many as the widest has cells", async () => {
    const source = await opened(one(rowXml(1, ["C1"]) + rowXml(2, ["C2", "SM2", "x"])), { header: "none" });
    expect(source).toMatchObject({ header: ["", "", ""], above: 0, headerRecords: 0, records: 2 });
    await source.close();
  });

  it("that reach beyond the header are columns without a name, and a cell far out is not lost", async () => {
    const wide = rowXml(1, ["Card"]) + rowXml(2, ["C1", "", "note"]);
    expect(await read(one(wide))).toEqual({ header: ["Card", "", ""], rows: [["C1", "", "note"]] });
    const far = `${rowXml(1, ["Card"])}<row r="2"><c r="A2" t="str"><v>C1</v></c><c r="ZZ2" t="str"><v>far</v></c></row>`;
    const source = await opened(one(far));
    expect(source.header).toHaveLength(257);
    const all = await (
      await exports.store.connection.run(
        `select * from read_csv('${source.csvPath}', header = false, all_varchar = true, null_padding = true)`,
      )
    ).getRows();
    expect(all[1]?.filter((value) => value !== null).join("")).toMatch(/^C1,*far$/);
    await source.close();
  });
});

describe("chosenSheets()", () => {
  const names = ["2023", "2024", "Notes & more"];
  const book = () =>
    exports.write(
      "sheets.xlsx",
      bookBytes({ sheets: names.map((name) => ({ name, rows: rowXml(1, [`in ${name}`]) })) }),
    );

  it.each([
    { wanted: [1], chosen: ["2023"] },
    { wanted: [3, 1], chosen: ["Notes & more", "2023"] },
    { wanted: ["20*"], chosen: ["2023", "2024"] },
    { wanted: ["202?", "notes*", 2], chosen: ["2023", "2024", "Notes & more"] },
  ])("finds $wanted", async ({ wanted, chosen }) => {
    expect(await chosenSheets(book(), "sheets.xlsx", wanted)).toEqual(chosen);
  });

  it.each([{ wanted: ["Cards"] }, { wanted: [4] }, { wanted: ["2023."] }])(
    "names the sheets when $wanted is none",
    async ({ wanted }) => {
      await expect(chosenSheets(book(), "sheets.xlsx", wanted)).rejects.toThrow(
        'its sheets are "2023", "2024", "Notes & more"',
      );
    },
  );

  it("leads to the rows of that sheet", async () => {
    book();
    const content = bookBytes({ sheets: names.map((name) => ({ name, rows: rowXml(1, [`in ${name}`]) })) });
    expect((await exports.read("s.xlsx", content, { ...xlsx, sheet: "Notes & more" })).header).toEqual([
      "in Notes & more",
    ]);
    await expect(exports.read("s.xlsx", content, { ...xlsx, sheet: "x" })).rejects.toThrow(
      'it has no sheet "x"; it has "2023"',
    );
  });
});

describe("a workbook that can't be read", () => {
  const whole = bookBytes(one(rowXml(1, ["Card"]) + rowXml(2, ["C1"])));
  const withSheet = (xml: string) => zipBytes({ ...bookParts(one("")), "xl/worksheets/sheet1.xml": xml });

  it.each([
    {
      name: "is cut off",
      content: whole.subarray(0, whole.length - 60),
      message: "the workbook is damaged or cut off",
    },
    { name: "is the beginning of one", content: whole.subarray(0, 10), message: "the workbook is damaged or cut off" },
    {
      name: "has broken XML",
      content: withSheet("<worksheet><sheetData><row></worksheet>"),
      message: "the workbook is damaged or cut off (xl/worksheets/sheet1.xml: ",
    },
    {
      name: "defines entities",
      content: withSheet(
        '<!DOCTYPE x [<!ENTITY a "aaaa">]><worksheet><sheetData><row r="1"><c t="str"><v>&a;</v></c></row></sheetData></worksheet>',
      ),
      message: "undefined entity",
    },
    {
      name: "has rows out of order",
      content: withSheet('<worksheet><sheetData><row r="2"/><row r="1"/></sheetData></worksheet>'),
      message: "row 1 after row 2",
    },
    {
      name: "has a column beyond the last",
      content: withSheet('<worksheet><sheetData><row r="1"><c r="XFE1"/></row></sheetData></worksheet>'),
      message: "cell XFE1 in row 1",
    },
    {
      name: "refers to a text that isn't there",
      content: withSheet('<worksheet><sheetData><row r="1"><c t="s"><v>9</v></c></row></sheetData></worksheet>'),
      message: "text 9, in row 1, is not there",
    },
    { name: "holds no rows", content: bookBytes(one("")), message: "it holds only empty lines, no header" },
    {
      name: "is another zip file",
      content: zipBytes({ "a.txt": "a" }),
      message: "a zip file without a workbook in it",
    },
    {
      name: "is an OpenDocument file",
      content: zipBytes({ "content.xml": "<a/>" }),
      message: "an OpenDocument spreadsheet; save it as .xlsx",
    },
    {
      name: "is of the old kind or locked",
      content: Buffer.from("d0cf11e0a1b11ae1000000", "hex"),
      message: "of the old binary kind (.xls), or one locked by a password",
    },
    {
      name: "is a web page",
      content: "<html><table><tr><td>Card</td></tr></table></html>",
      message: "a web page or XML under another name",
    },
    { name: "is a text", content: "Card,Frame\n", message: 'set "format: csv"' },
  ])("because it $name says so", async ({ content, message }) => {
    await expect(exports.open("cards.xlsx", content, xlsx)).rejects.toThrow(message);
    await expect(exports.open("cards.xlsx", content, xlsx)).rejects.toThrow(/^Cannot read cards\.xlsx.*;/);
    expect(readdirSync(exports.scratch)).toEqual([]);
  });

  it("lies about its size is stopped at the size it said", async () => {
    const parts = { ...bookParts(one("")), "xl/worksheets/sheet1.xml": " ".repeat(5000) };
    await expect(exports.open("cards.xlsx", zipBytes(parts, { "xl/worksheets/sheet1.xml": 10 }), xlsx)).rejects.toThrow(
      "damaged or cut off (too many bytes",
    );
  });
});
