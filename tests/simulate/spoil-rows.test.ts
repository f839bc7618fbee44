import { describe, expect, it } from "vitest";
import { randomFor } from "../../src/simulate/random.ts";
import { type Sheet, spoilRows } from "../../src/simulate/spoil-rows.ts";

const NONE = {
  blank_line: 0,
  repeated_header: 0,
  duplicate_row: 0,
  bad_date: 0,
  wrong_order: 0,
  unknown_word: 0,
  foreign_unit: 0,
  own_unit: 0,
  extra_cell: 0,
  stray_blanks: 0,
  lost_cell: 0,
};
const slips = {
  dates: ["31/02/2019"],
  words: ["see note"],
  foreign: (cell: string) => `${cell}f`,
  own: (cell: string) => `${cell} mm`,
};
const sheet: Sheet = {
  header: ["Frame", "Out", "Back", "Why", "Play", "Lube"],
  fields: ["unit", "removed_on", "installed_on", "reason", "end_play", "lube"],
  rows: [["FA-1", "01/02/2019", "03/02/2019", "failed", "4.5", "oil"]],
};
const [clean] = sheet.rows;

describe("spoilRows()", () => {
  it.each([
    { fault: "blank_line", rows: [["", "", "", "", "", ""], clean] },
    { fault: "repeated_header", rows: [sheet.header, clean] },
    { fault: "duplicate_row", rows: [clean, clean] },
    { fault: "bad_date", rows: [["FA-1", "31/02/2019", "03/02/2019", "failed", "4.5", "oil"]] },
    { fault: "wrong_order", rows: [["FA-1", "03/02/2019", "01/02/2019", "failed", "4.5", "oil"]] },
    { fault: "unknown_word", rows: [["FA-1", "01/02/2019", "03/02/2019", "see note", "4.5", "oil"]] },
    { fault: "foreign_unit", rows: [["FA-1", "01/02/2019", "03/02/2019", "failed", "4.5f", "oil"]] },
    { fault: "own_unit", rows: [["FA-1", "01/02/2019", "03/02/2019", "failed", "4.5 mm", "oil"]] },
    { fault: "extra_cell", rows: [["FA-1", "01/02/2019", "03/02/2019", "failed", "4.5", "oil", "see file"]] },
    { fault: "stray_blanks", rows: [["  fa-1 ", "01/02/2019", "03/02/2019", "failed", "4.5", "oil"]] },
    { fault: "lost_cell", rows: [["FA-1", "01/02/2019", "03/02/2019", "failed", "4.5", ""]] },
  ])("makes a $fault", ({ fault, rows }) => {
    const spoilt = spoilRows(sheet, { ...NONE, [fault]: 1 }, slips, randomFor(1));
    expect(spoilt.rows).toEqual(rows);
    expect(spoilt.planted).toEqual({ [fault]: 1 });
  });

  it("spoils the declared share of rows, none twice, and leaves the sheet as it was", () => {
    const rows = Array.from({ length: 200 }, (_, n) => [`FA-${n}`, "01/02/2019", "03/02/2019", "failed", "4.5", "oil"]);
    const before = structuredClone(rows);
    const { rows: spoilt, planted } = spoilRows(
      { ...sheet, rows },
      { ...NONE, bad_date: 0.05, unknown_word: 0.1 },
      slips,
      randomFor(2),
    );
    expect(planted).toEqual({ bad_date: 10, unknown_word: 20 });
    expect(spoilt.filter((row) => row[1] === "31/02/2019")).toHaveLength(10);
    expect(spoilt.filter((row) => row[3] === "see note" && row[1] === "31/02/2019")).toHaveLength(0);
    expect(rows).toEqual(before);
  });

  it("passes over rows that have nothing there to be spoilt", () => {
    const empty = { ...sheet, rows: [["FA-1", "01/02/2019", "", "failed", "", "oil"]] };
    const { rows, planted } = spoilRows(empty, { ...NONE, wrong_order: 1, foreign_unit: 1 }, slips, randomFor(3));
    expect(rows).toEqual(empty.rows);
    expect(planted).toEqual({});
  });
});
