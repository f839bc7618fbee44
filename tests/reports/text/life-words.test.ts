import { describe, expect, it } from "vitest";
import { boundsWords } from "../../../reports/text/bounds-words.ts";
import { chanceWords } from "../../../reports/text/chance-words.ts";
import { comparisonWords } from "../../../reports/text/comparison-words.ts";
import { hazardWords } from "../../../reports/text/hazard-words.ts";
import { limitsWords } from "../../../reports/text/limits-words.ts";
import { METHODS } from "../../../reports/text/methods.ts";
import { shareWithLimits, shareWords } from "../../../reports/text/share-words.ts";
import type { Comparison, IntervalUsed } from "../../../src/questions/life-answer.ts";
import type { FamilyName } from "../../../src/stats/distribution/family.ts";
import { comparisonOf } from "../fixtures.ts";

describe("hazardWords()", () => {
  const words = (low: number | null, high: number | null, distribution: FamilyName = "weibull") =>
    hazardWords({ shape: { estimate: 1.1, low, high }, distribution });

  it.each([
    { low: 1.05, high: 2.4, says: "Failures rise with age (shape 1.1, 1.05 to 2.4)" },
    { low: 0.5, high: 0.95, says: "Failures fall with age" },
    { low: 0.9, high: 1.2, says: "about constant" },
    { low: 0.6, high: 1.9, says: "can't be told" },
    { low: null, high: null, says: "limits are not both known" },
  ])("reads $low to $high as: $says", ({ low, high, says }) => {
    expect(words(low, high)).toContain(says);
  });

  it("says of other laws what they hold of age, and nothing without a shape", () => {
    expect(words(2, 3, "lognormal")).toContain("passes a peak");
    expect(words(2, 3, "exponential")).toContain("constant");
    expect(words(2, 3, "gamma")).toContain("rise with age");
    expect(hazardWords({ shape: { estimate: null, low: null, high: null }, distribution: "weibull" })).toBeNull();
  });
});

describe("limitsWords()", () => {
  const used = (more: Partial<IntervalUsed>): IntervalUsed => ({
    ...{ method: "profile", draws: null, redrawn: null, seed: null, clusters: null, clusteredBy: null, instead: null },
    ...more,
  });

  it.each([
    { used: used({}), words: "by likelihood" },
    {
      used: used({ method: "calibrated", draws: 999, redrawn: 0, seed: 7 }),
      words: "by likelihood, with a cut-off from 999 drawn sets of lives (seed 7)",
    },
    {
      used: used({ method: "clustered", clusters: 37, clusteredBy: "unit" }),
      words: "by leaving out each of 37 units in turn",
    },
    {
      used: used({ method: "clustered", clusters: 200, clusteredBy: "unit", seed: 1 }),
      words: "by leaving out each of 200 groups of units in turn (seed 1)",
    },
    {
      used: used({ method: "wald", instead: "the likelihood has no lower limit" }),
      words: "by the normal law, on the log scale; the likelihood has no lower limit",
    },
    {
      used: used({ method: "bootstrap", draws: 999, redrawn: 3 }),
      words: "from 999 drawn sets of lives, each fitted again (3 drawn again, for they could not be fitted)",
    },
    { used: used({ method: "chi-square" }), words: "by the chi-square law, the shape being taken as known" },
  ])("says: $words", ({ used, words }) => {
    expect(limitsWords(used)).toBe(words);
  });
});

describe("shares, chances and bounds in words", () => {
  it.each([
    [0, "0 %"],
    [0.0001, "0.1 %"],
    [0.42, "42 %"],
    [0.9999, "99.9 %"],
    [1, "100 %"],
  ])("shareWords(%d) is %s", (share, words) => {
    expect(shareWords(share)).toBe(words);
  });

  it("gives a share with its limits, one limit, or the reason", () => {
    expect(shareWithLimits({ estimate: 0.62, low: 0.48, high: 0.73 })).toBe("62 % (48 to 73)");
    expect(shareWithLimits({ estimate: 0.62, low: 0.48, high: null })).toBe("62 % (at least 48)");
    expect(shareWithLimits({ estimate: null, low: null, high: null, reason: "no fit" })).toBe("not known (no fit)");
  });

  it("rounds a chance to two digits and writes no very small one out", () => {
    expect(chanceWords(0.0321)).toBe("p\u00a0=\u00a00.032");
    expect(chanceWords(0.00012)).toBe("p\u00a0<\u00a00.001");
  });

  it("gives one bound where there is no estimate", () => {
    expect(boundsWords({ estimate: null, low: 3200, high: null })).toBe("at least 3,200");
    expect(boundsWords({ estimate: 5000, low: 3200, high: 8000 })).toBe("5,000 (3,200 to 8,000)");
    expect(boundsWords({ estimate: null, low: null, high: null, reason: "no lives" })).toBe("not known (no lives)");
  });
});

describe("comparisonWords()", () => {
  const said = (comparison: Comparison) =>
    comparisonWords(comparison, ["Saltmere", "Ostrel"], 0.95).replaceAll("\u00a0", " ");
  const test = (p: number) => ({ statistic: 1, df: 1, p });

  it("says that lives differ, and by how much where that is sure", () => {
    expect(said(comparisonOf())).toBe(
      "Lives differ between fleets by more than chance (one law for all: p < 0.001; log-rank: p < 0.001). One shape would do for all (p = 0.43). L10 is at Ostrel 0.64 (0.46 to 0.89) times that at Saltmere.",
    );
  });

  it.each([
    { oneLaw: test(0.4), logRank: test(0.6), says: "No difference in life between fleets is seen beyond chance" },
    { oneLaw: test(0.4), logRank: test(0.6), says: "Taken by itself, L10 is at Ostrel 0.64" },
    { oneLaw: test(0.01), logRank: test(0.6), says: "open, for the tests disagree" },
    { oneLaw: null, logRank: test(0.01), says: "by more than chance (log-rank: p = 0.01)" },
  ])("says: $says", ({ oneLaw, logRank, says }) => {
    expect(said(comparisonOf({ oneLaw, logRank }))).toContain(says);
  });

  it("names no ratio that may be 1, and says why tests are missing", () => {
    const ratios = [{ group: 1, of: 0, ratio: { estimate: 0.8, low: 0.5, high: 1.3 } }];
    const none = comparisonOf({
      oneLaw: null,
      logRank: null,
      commonShape: null,
      ratios,
      reasons: ["too few failures"],
    });
    expect(said(none)).toBe("No fleet's L10 is surely off that of the fleet with most failures. Too few failures.");
  });

  it("says that lives differ although no ratio is surely off 1", () => {
    const ratios = [{ group: 1, of: 0, ratio: { estimate: 0.8, low: 0.5, high: 1.3 } }];
    expect(said(comparisonOf({ ratios }))).toContain("Yet no fleet's L10 is surely off");
  });
});

describe("METHODS", () => {
  it("has for each method what it answers, how it is reckoned and a source, and no name twice", () => {
    const methods = METHODS.flatMap(({ methods }) => methods);
    expect(methods.length).toBeGreaterThan(20);
    for (const { name, answers, formula, source } of methods) {
      expect(answers, name).toMatch(/[?.]$/);
      expect(formula, name).toMatch(/\.$/);
      expect(source.length, name).toBeGreaterThan(8);
    }
    expect(new Set(methods.map(({ name }) => name)).size).toBe(methods.length);
  });
});
