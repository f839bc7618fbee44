import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openCsv, writeCsv } from "../../src/commands/csv-file.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-csv-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const written = () => readFileSync(join(folder, "out.csv"), "utf8");

describe("writeCsv()", () => {
  it.each([
    ["=HYPERLINK(A1)", "'=HYPERLINK(A1)"],
    ["+1", "'+1"],
    ["-1+cmd|calc", "'-1+cmd|calc"],
    ["@SUM(A1)", "'@SUM(A1)"],
    ["\t=1", "'\t=1"],
    ["\r=1", `"'\r=1"`],
    ["\n=1", `"'\n=1"`],
    ["＝1+1", "'＝1+1"],
    ["-7 thou", "'-7 thou"],
    ["A-7", "A-7"],
    ['=1,"x"', `"'=1,""x"""`],
  ])("writes the text %j so that no spreadsheet runs it", (text, cell) => {
    writeCsv(folder, "out.csv", ["Remark"], [[text]]);
    expect(written()).toBe(`Remark\r\n${cell}\r\n`);
  });

  it("leaves numbers numbers, and headers are texts like any other", () => {
    writeCsv(folder, "out.csv", ["=a", "b"], [[-7.5, null]]);
    expect(written()).toBe("'=a,b\r\n-7.5,\r\n");
  });

  it("names the file that can't be written, and the remedy", () => {
    expect(() => writeCsv(folder, "none/out.csv", ["a"], [])).toThrow(
      /Cannot write .*none\/out\.csv: .*; name a file in a folder that can be written to/,
    );
  });
});

describe("openCsv()", () => {
  it("writes piece by piece what writeCsv() writes at once", () => {
    const file = openCsv(folder, "out.csv", ["a", "b"]);
    file.write([["=x", 1]]);
    file.write([
      ["é", -2],
      [null, 3],
    ]);
    file.close();
    expect(written()).toBe("a,b\r\n'=x,1\r\né,-2\r\n,3\r\n");
  });
});
