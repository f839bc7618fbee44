import { describe, expect, it } from "vitest";
import { csvText } from "../../src/simulate/csv-text.ts";

describe("csvText()", () => {
  it("quotes only the cells that need it, and doubles the quotes in them", () => {
    const rows = [
      ["a", "b;c", 'say "no"', "two\nlines", " x "],
      ["", "1,5"],
    ];
    expect(csvText(rows, { delimiter: ";", newline: "\r\n" })).toBe(
      'a;"b;c";"say ""no""";"two\nlines"; x \r\n;1,5\r\n',
    );
  });
});
