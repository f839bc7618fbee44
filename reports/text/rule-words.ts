import type { RunRule } from "../../src/stats/measurements/run-rules.ts";

const WORDS: Record<RunRule, string> = {
  "1 beyond 3 sigma": "outside the usual strip",
  "2 of 3 beyond 2 sigma": "2 of 3 in its outer third or beyond, one side",
  "4 of 5 beyond 1 sigma": "4 of 5 beyond its inner third, one side",
  "8 in a row on one side": "8 in a row on one side of the middle",
};

/** A run rule by the strip that a chart shows: from the middle to its edge it is three sigma wide. */
export function ruleWords(rule: RunRule): string {
  return WORDS[rule];
}
