import { describe, expect, it } from "vitest";
import { countedWords } from "../../../reports/text/entry-words.ts";
import { entityOf } from "../fixtures.ts";

describe("countedWords()", () => {
  it("sets what was expected beside the failures that it is of", () => {
    expect(countedWords({ builds: 17, failures: 14 }, entityOf("QF-1", 14, 6.93))).toBe(
      "17 builds, 14 failures where 6.93 were expected",
    );
    expect(countedWords({ builds: 17, failures: 14 }, entityOf("QF-1", 13, 6.93))).toBe(
      "17 builds, 14 failures; 13 can be judged, where 6.93 were expected",
    );
  });

  it("says what is on record where nothing was expected", () => {
    expect(countedWords({ builds: 1, failures: 0 })).toBe("1 build, 0 failures");
    expect(countedWords({ builds: 2, failures: 1 }, entityOf("QF-1", 1, 0))).toBe("2 builds, 1 failure");
  });
});
