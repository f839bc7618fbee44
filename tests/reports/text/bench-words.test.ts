import { describe, expect, it } from "vitest";
import { builtSpans } from "../../../reports/text/built-spans.ts";
import { comebackLines } from "../../../reports/text/comeback-words.ts";
import { usualWords } from "../../../reports/text/usual-words.ts";
import { splitsOf } from "../bench-fixtures.ts";

describe("builtSpans()", () => {
  it("goes by month where months have builds enough, and leaves out what is not known yet", () => {
    const { of, built, unknown } = builtSpans(splitsOf(12, 12));
    expect({ of, shown: built.length, unknown }).toEqual({ of: "month", shown: 11, unknown: 1 });
    expect(built[1]).toMatchObject({
      name: "2015-02",
      from: Date.UTC(2015, 1, 1),
      to: Date.UTC(2015, 2, 1),
      builds: 12,
    });
  });

  it("goes by quarter where the median month has under ten builds", () => {
    const { of, built, unknown } = builtSpans(splitsOf(12, 9));
    expect({ of, shown: built.length, unknown }).toEqual({ of: "quarter", shown: 3, unknown: 1 });
    expect(built[2]).toMatchObject({
      name: "2015-Q3",
      from: Date.UTC(2015, 6, 1),
      to: Date.UTC(2015, 9, 1),
      builds: 27,
    });
  });

  it("has nothing where nothing has a date", () => {
    expect(builtSpans([])).toEqual({ of: "quarter", built: [], unknown: 0 });
  });
});

describe("comebackLines()", () => {
  const slots = { seals: "Drive-end seals", sleeve: "Shaft sleeve" };
  const part = (slot: string, condition: string | null, damageMode: string | null) => ({ slot, condition, damageMode });

  it.each([
    {
      name: "what failed, by its damage",
      found: [part("seals", "failed", "lip_wear"), part("sleeve", "worn", null)],
      lines: ["Drive-end seals: lip wear"],
    },
    { name: "what failed, without damage", found: [part("seals", "failed", null)], lines: ["Drive-end seals: failed"] },
    {
      name: "damage of what did not fail",
      found: [part("sleeve", "worn", "groove")],
      lines: ["Shaft sleeve: worn, groove"],
    },
    {
      name: "what was worn where nothing failed",
      found: [part("sleeve", "worn", null)],
      lines: ["Shaft sleeve: worn"],
    },
    { name: "a slot without a title", found: [part("end_cap", "failed", null)], lines: ["end cap: failed"] },
  ])("tells $name", ({ found, lines }) => {
    expect(comebackLines({ found, failedSlot: null }, slots)).toEqual(lines);
  });

  it("says where the card tells no more than a name, or nothing", () => {
    const found = [part("sleeve", "serviceable", null)];
    expect(comebackLines({ found, failedSlot: "seals" }, slots)).toEqual(["Drive-end seals named, nothing said of it"]);
    expect(comebackLines({ found, failedSlot: null }, slots)).toEqual(["Nothing on the card"]);
  });
});

describe("usualWords()", () => {
  it.each([
    { low: -0.95, high: 9.62, unit: "thou", words: "under 0 to 9.62 thou" },
    { low: 0, high: 0.25, unit: "", words: "0 to 0.25" },
  ])("gives $words", ({ low, high, unit, words }) => {
    expect(usualWords({ low, high }, unit)).toBe(words);
  });
});
