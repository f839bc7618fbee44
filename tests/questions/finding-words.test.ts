import { describe, expect, it } from "vitest";
import { findingWords } from "../../src/questions/finding-words.ts";

describe("findingWords()", () => {
  it.each([
    { column: "Out", cell: "03/04/2020", value: "2020-04-03", is: 'Out "03/04/2020", read as 2020-04-03' },
    { column: "Out", cell: "2020-04-03", value: "2020-04-03", is: 'Out "2020-04-03"' },
    { column: "Frame", cell: "  sm0143 ", value: "sm0143", is: 'Frame "  sm0143 "' },
    { column: "Stunden", cell: "732,4", value: "732.4 h", is: 'Stunden "732,4"' },
    // What a check weighs may come from another cell, as what an old meter showed
    { column: "Hours", cell: "0.0", value: "14590.4 h", is: 'Hours "0.0" (14590.4 h)' },
    { column: "DE found", cell: "scrap", value: "failed", is: 'DE found "scrap" (failed)' },
    { column: "Why", cell: "", value: null, is: "Why blank" },
    { column: "Why", cell: null, value: null, is: "Why blank" },
    { column: "Why", cell: null, value: "?", is: 'Why "?"' },
    { column: null, cell: null, value: "?", is: '"?"' },
  ])("$column $cell, $value: $is", ({ is, ...told }) => {
    expect(findingWords(told)).toBe(is);
  });
});
