import { describe, expect, it } from "vitest";
import { endWords, outOn } from "../../../reports/text/build-words.ts";

const slots = { drive_end_seals: "Drive-end seals" };
const build = { ends: "end", assumedRunning: false, retired: false, failedSlot: null, stop: "2020-01-02" } as const;

describe("how a build ended", () => {
  it.each([
    { of: {}, words: "no rebuild since", on: null },
    { of: { assumedRunning: true }, words: "taken to run still", on: null },
    { of: { retired: true }, words: "frame taken out of use", on: "2020-01-02" },
    { of: { ends: "planned" as const }, words: "planned", on: "2020-01-02" },
    {
      of: { ends: "failure" as const, failedSlot: "drive_end_seals" },
      words: "failure (Drive-end seals)",
      on: "2020-01-02",
    },
  ])("$words", ({ of, words, on }) => {
    expect(endWords({ ...build, ...of }, slots)).toBe(words);
    expect(outOn({ ...build, ...of })).toBe(on);
  });
});
