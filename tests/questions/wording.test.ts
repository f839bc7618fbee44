import { describe, expect, it } from "vitest";
import { chanceInWords, wholePercent, withLimits } from "../../src/questions/wording.ts";

describe("wholePercent()", () => {
  it.each([
    { share: 0, words: "0 %" },
    { share: 1, words: "100 %" },
    { share: 40 / 897, words: "4 %" },
    { share: 14 / 1017, words: "1.4 %" },
    { share: 1e-9, words: "0.1 %" },
    { share: 367 / 370, words: "99.2 %" },
    { share: 1 - 1e-9, words: "99.9 %" },
  ])("says $share as $words (by hand)", ({ share, words }) => {
    expect(wholePercent(share)).toBe(words);
  });
});

describe("chanceInWords()", () => {
  it.each([
    { p: 8.64e-23, words: "under 0.001" },
    { p: 0.001, words: "= 0.001" },
    { p: 0.0342, words: "= 0.0342" },
  ])("says $p as $words", ({ p, words }) => {
    expect(chanceInWords(p)).toBe(words);
  });
});

describe("withLimits()", () => {
  it.each([
    { estimate: 5910, low: 4720, high: 7130, words: "5,910 h (4,720 to 7,130)" },
    { estimate: 5.12, low: 1.85e-36, high: 1.42e37, words: "5.12 h (limits too wide to tell)" },
    { estimate: 5.12, low: null, high: 1.42e37, words: "5.12 h (limits too wide to tell)" },
    { estimate: 0.4, low: -0.8, high: 1.6, words: "0.4 h (-0.8 to 1.6)" },
    { estimate: 12, low: 0, high: 40, words: "12 h (0 to 40)" },
    { estimate: 12, low: null, high: null, words: "12 h (limits not known)" },
  ])("says $estimate, $low and $high as $words", ({ words, ...estimate }) => {
    expect(withLimits(estimate, " h")).toBe(words);
  });
});
