import { describe, expect, it } from "vitest";
import { jsonIsland } from "../../src/report/json-island.ts";

describe("jsonIsland()", () => {
  it.each([
    "</script><script>alert(1)</script>",
    "<!--",
    "a & b",
    "line\u2028and\u2029paragraph",
    'quote " and \\ stroke',
  ])("holds %j so that no markup is left and the text comes back", (text) => {
    const island = jsonIsland({ [text]: [text] });
    expect(island).not.toMatch(/[<>&\u2028\u2029]/);
    expect(JSON.parse(island)).toEqual({ [text]: [text] });
  });
});
