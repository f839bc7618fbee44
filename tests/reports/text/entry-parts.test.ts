import { describe, expect, it } from "vitest";
import { entryParts } from "../../../reports/text/entry-parts.ts";

const of = (count: number, builds: number) => Array.from({ length: count }, () => ({ builds }));

describe("entryParts()", () => {
  it.each([
    { entries: of(0, 1), parts: [], what: "none" },
    { entries: of(250, 1), parts: [[0, 250]], what: "as many as one page takes" },
    {
      entries: of(251, 0),
      parts: [
        [0, 250],
        [250, 251],
      ],
      what: "one more",
    },
    // 1,500 builds a page: 150 of 10
    {
      entries: of(301, 10),
      parts: [
        [0, 150],
        [150, 300],
        [300, 301],
      ],
      what: "by their builds",
    },
    {
      entries: of(2, 9000),
      parts: [
        [0, 1],
        [1, 2],
      ],
      what: "one that is more than a page takes",
    },
  ])("lays out $what", ({ entries, parts }) => {
    expect(entryParts(entries).map(({ from, to }) => [from, to])).toEqual(parts);
  });
});
