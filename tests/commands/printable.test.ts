import { describe, expect, it } from "vitest";
import { printable, printableJson } from "../../src/commands/printable.ts";
import { textTable } from "../../src/commands/text-table.ts";

const ESCAPE = "\u001b";

describe("printable()", () => {
  it.each([
    { name: "an escape sequence", text: `a${ESCAPE}[2Jb`, shown: "a\\u001b[2Jb" },
    { name: "an eight-bit escape", text: "\u009b2J", shown: "\\u009b2J" },
    { name: "a line break and a tab", text: "a\r\nb\tc", shown: "a\\r\\nb\\tc" },
    { name: "a turned line", text: "a\u202eb\u2066c", shown: "a\\u202eb\\u2066c" },
    { name: "letters of any script", text: "Größe 试 – µm", shown: "Größe 试 – µm" },
  ])("shows $name on one line", ({ text, shown }) => {
    expect(printable(text)).toBe(shown);
  });
});

describe("printableJson()", () => {
  it("gives the same value and nothing that a terminal obeys", () => {
    const value = { remark: `\u009b2J${ESCAPE}]0;x\u0007\u202e`, list: [1, null] };
    const text = printableJson(value, 2);
    expect(JSON.parse(text)).toEqual(value);
    expect([...text].filter((mark) => mark !== "\n" && (mark < " " || (mark >= "\u007f" && mark <= "\u009f")))).toEqual(
      [],
    );
    expect(text).not.toContain("\u202e");
  });
});

describe("textTable()", () => {
  it("keeps its columns whatever the cells hold", () => {
    expect(
      textTable(
        ["unit", "h"],
        [
          [`F${ESCAPE}[2J`, "1"],
          ["G\nH", "23"],
        ],
        [false, true],
      ),
    ).toBe("unit         h\nF\\u001b[2J   1\nG\\nH        23");
  });

  it("takes more rows than a call takes arguments", () => {
    const rows = Array.from({ length: 200_000 }, () => ["x"]);
    expect(textTable(["a"], rows, [false]).length).toBe(400_001);
  });
});
