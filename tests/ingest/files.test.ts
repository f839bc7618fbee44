import { readFileSync } from "node:fs";
import { join } from "node:path";
import { brotliDecompressSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { ScratchWorkspace } from "./scratch-workspace.ts";

const units = (more = "") => `
title: Units
record: unit
files: units.csv
${more}
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
  site: { column: Site }
`;

async function sites(content: string | Buffer, more = ""): Promise<string[]> {
  const workspace = new ScratchWorkspace({ units: units(more) }, { "units.csv": content });
  await workspace.ingest();
  return workspace.lines("select row, unit, site from records.unit order by row");
}

const plain = ["2|FA-1|Süd", "3|FA-2|Öst"];

describe("an export", () => {
  it.each([
    ["UTF-8", "Frame,Site\nFA-1,Süd\nFA-2,Öst\n", ""],
    ["UTF-8 with a byte order mark", "\ufeffFrame,Site\nFA-1,Süd\nFA-2,Öst\n", ""],
    ["UTF-8 with a byte order mark and quotes", '\ufeff"Frame","Site"\r\n"FA-1","Süd"\r\n"FA-2","Öst"\r\n', ""],
    ["latin-1", Buffer.from("Frame,Site\nFA-1,Süd\nFA-2,Öst\n", "latin1"), "encoding: latin-1"],
    [
      "UTF-16, little-endian with its mark",
      Buffer.from("\ufeffFrame,Site\r\nFA-1,Süd\r\nFA-2,Öst\r\n", "utf16le"),
      "encoding: utf-16",
    ],
    ["UTF-16, little-endian without", Buffer.from("Frame,Site\nFA-1,Süd\nFA-2,Öst\n", "utf16le"), "encoding: utf-16"],
    [
      "UTF-16, big-endian",
      Buffer.from("\ufeffFrame,Site\nFA-1,Süd\nFA-2,Öst\n", "utf16le").swap16(),
      "encoding: utf-16",
    ],
    ["semicolons", "Frame;Site\nFA-1;Süd\nFA-2;Öst\n", 'delimiter: ";"'],
    ["tabs", "Frame\tSite\nFA-1\tSüd\nFA-2\tÖst\n", 'delimiter: "\\t"'],
    ["no line end at its end", "Frame,Site\nFA-1,Süd\nFA-2,Öst", ""],
    ["carriage returns alone", "Frame,Site\rFA-1,Süd\rFA-2,Öst\r", ""],
    ["mixed line ends", "Frame,Site\nFA-1,Süd\r\nFA-2,Öst\n", ""],
    ["blanks around cells and headers", " Frame , SITE \n FA-1 ,\u00a0Süd\t\n  FA-2,Öst  \n", ""],
    ["blanks around quotes", 'Frame,Site\n "FA-1" , "Süd"\nFA-2,Öst\n', ""],
  ])("is read the same with %s", async (_what, content, more) => {
    expect(await sites(content, more)).toEqual(plain);
  });

  it("keeps the number that a spreadsheet shows for a row, over empty lines and line ends in cells", async () => {
    const content = 'Frame,Site\n\nFA-1,"North\nyard"\n\n\nFA-2,"a ""b"", c"\nFA-3,\n\n';
    expect(await sites(content)).toEqual(["3|FA-1|North yard", '6|FA-2|a "b", c', "7|FA-3|-"]);
    const workspace = new ScratchWorkspace({ units: units() }, { "units.csv": `\n${content}` });
    expect((await workspace.ingest()).files[0]).toMatchObject({ read: 8, notData: 5, corrected: 1, accepted: 2 });
    expect(await workspace.lines("select row from records.unit order by row")).toEqual(["4", "7", "8"]);
    expect(await workspace.lines("select row from landing.set_aside order by row")).toEqual(["1", "3", "5", "6", "9"]);
  });

  it("of code page windows-1252, called latin-1, keeps its quotes and dashes", async () => {
    expect(
      await sites(Buffer.from([...Buffer.from("Frame,Site\nA,"), 0x93, 0x80, 0x94, 0x0a]), "encoding: latin-1"),
    ).toEqual(["2|A|“€”"]);
  });

  it("that isn't the UTF-8 it is said to be is refused with its line and the remedy", async () => {
    await expect(sites(Buffer.from("Frame,Site\nFA-1,x\nFA-2,Öst\n", "latin1"))).rejects.toThrow(
      'Cannot read units.csv: line 3 is not UTF-8; set "encoding: latin-1"',
    );
  });

  it("with a quote that isn't closed is refused whole, with the line", async () => {
    const workspace = new ScratchWorkspace(
      { units: units() },
      { "units.csv": 'Frame,Site\nFA-1,x\nFA-2,"Öst\nFA-3,y\n' },
    );
    await expect(workspace.ingest()).rejects.toThrow("the quote that opens on line 3 is not closed");
    expect(await workspace.lines("select * from landing.file")).toEqual([]);
  });

  it("with text after a closing quote loses that row alone", async () => {
    const workspace = new ScratchWorkspace(
      { units: units() },
      { "units.csv": 'Frame,Site\nFA-1,x\nFA-2,"Ö"st\nFA-3,y\n' },
    );
    expect((await workspace.ingest()).files[0]).toMatchObject({
      read: 3,
      quarantined: 1,
      accepted: 2,
      rules: { broken_quotes: 1 },
    });
    expect(await workspace.lines("select row, raw from landing.set_aside")).toEqual([
      '3|{"Frame":"FA-2","Site":"Öst"}',
    ]);
  });

  it("with a line longer than any job card is refused with its line", async () => {
    await expect(sites(`Frame,Site\nFA-1,${"x".repeat(3_000_000)}\n`)).rejects.toThrow(
      "Cannot read units.csv: line 2: ",
    );
  });

  it("with a header twice is refused where the pipeline needs it, and read where not", async () => {
    await expect(sites("Frame,Site,Frame\nFA-1,x,y\n")).rejects.toThrow('column "Frame" stands twice in units.csv');
    const workspace = new ScratchWorkspace({ units: units() }, { "units.csv": "Frame,Site,Note,Note,\n,x,a,b,c\n" });
    await workspace.ingest();
    expect(await workspace.lines("select raw from landing.set_aside")).toEqual([
      '{"Site":"x","Note":"a","column 4":"b","column 5":"c"}',
    ]);
  });

  it("is kept as it was, byte for byte", async () => {
    const bytes = Buffer.from("Frame,Site\r\nFA-1,Süd\r\n", "latin1");
    const workspace = new ScratchWorkspace({ units: units("encoding: latin-1") }, { "units.csv": bytes });
    await workspace.ingest();
    const sha256 = (await workspace.lines("select sha256 from landing.file"))[0];
    expect(brotliDecompressSync(readFileSync(join(workspace.folder, `store/exports/${sha256}.br`)))).toEqual(bytes);
  });
});

describe("a name of a column that holds a NUL", () => {
  it("keeps nothing of the record from being read", async () => {
    const workspace = new ScratchWorkspace(
      { units: units().replace("units.csv", "units.json") },
      { "units.json": '[{"Frame": "FA-1", "a\\u0000b": 1, "Site": "Süd"}]' },
    );
    await workspace.ingest();
    expect(await workspace.lines("select unit, site from records.unit")).toEqual(["FA-1|Süd"]);
    expect(await workspace.lines("select header[2] from landing.file")).toEqual(["a\ufffdb"]);
  });
});

describe("cells that look like something else", () => {
  it("stay text: formulas, SQL, quotes, markup, format letters", async () => {
    const nasty = [
      '=cmd|"/c calc"!A1',
      "+1+1",
      "@SUM(A1)",
      "'; drop table records.unit_row; --",
      `"); attach 'x' as y; --`,
      "<script>alert(1)</script>",
      "$file_id",
      "?",
      "%s %d {}",
      "\\",
      "null",
      "a\u001fb",
      "\u200bzero",
      '{"a": 1}',
    ];
    const cells = nasty.map((cell, index) => `FA-${index + 10},"${cell.replaceAll('"', '""')}"`);
    const workspace = new ScratchWorkspace(
      { units: units() },
      { "units.csv": ["Frame,Site", ...cells, ""].join("\n") },
    );
    await workspace.ingest();
    expect((await workspace.rows("select site from records.unit order by row")).map(({ site }) => site)).toEqual(nasty);
  });

  it("stay names: a header with quotes, an identifier with quotes, a file name with a quote", async () => {
    const pipeline = `
title: Units
record: unit
files: "it's; a \\"test\\".csv"
not_data: [{ column: 'Si"te', matches: "it's.*" }]
fields:
  fleet: { column: "Fl'eet", words: { "o'str\\"el": ostrel } }
  unit: { column: 'F"ra''me;--' }
  site: { column: 'Si"te', words: { "a'b": "c'd" } }
`;
    const header = `"F""ra'me;--","Si""te",Fl'eet`;
    const workspace = new ScratchWorkspace(
      { units: pipeline },
      { 'it\'s; a "test".csv': `${header}\nx'1,a'b,"o'str""el"\nx2,it's over,saltmere\n"x""3",?,"O'STR""EL"\n` },
    );
    expect((await workspace.ingest()).files[0]).toMatchObject({ read: 3, notData: 1, accepted: 2, refusedValues: 1 });
    expect(await workspace.lines("select fleet, unit, site from records.unit order by row")).toEqual([
      "ostrel|x'1|c'd",
      'ostrel|x"3|-',
    ]);
  });
});
