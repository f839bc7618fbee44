import { describe, expect, it } from "vitest";
import { wholePercent } from "../../src/questions/wording.ts";

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
