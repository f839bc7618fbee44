import { expect, it } from "vitest";
import type { BenchShare } from "../../src/questions/bench-answer.ts";
import { benchFindings } from "../../src/questions/bench-findings.ts";
import { benchAnswerOf, benchGroupOf } from "../reports/bench-fixtures.ts";

const WINDOW = { low: 0.05, high: 0.18, unit: "mm", source: "maker's manual" } as const;
const NOT_KNOWN = { estimate: null, low: null, high: null, reason: "nothing to tell" };

function findingsOf(outside: BenchShare, back: BenchShare, window: typeof WINDOW | null = WINDOW): string[] {
  const group = benchGroupOf(40);
  return benchFindings({
    endPlay: { unit: "thou", window },
    bench: benchAnswerOf({
      ...group,
      asBuilt: { ...group.asBuilt, outside },
      comebacks: { ...group.comebacks!, share: back, limit: 90 },
    }),
  });
}

it("says what lies outside the window as it is stated, with its source, and what comes back, both with limits", () => {
  expect(
    findingsOf(
      { estimate: 0.1, low: 0.04, high: 0.23, count: 4, of: 40 },
      { estimate: 0.031, low: 0.01, high: 0.1, count: 1, of: 33 },
    ),
  ).toEqual([
    "4 of 40 as-built end plays lie outside the window of 0.05 to 0.18 mm (maker's manual): 10 % (4.0 to 23 %).",
    "Of 33 builds 1 came back for failure within 90 days: 3.1 % (1.0 to 10 %).",
  ]);
});

it("says of one reading that it lies", () => {
  const [said] = findingsOf({ estimate: 1, low: 0.2, high: 1, count: 1, of: 1 }, { ...NOT_KNOWN, count: 0, of: 0 });
  expect(said).toMatch(/^1 of 1 as-built end play lies outside/);
});

it("says nothing of what is not known", () => {
  const none = { ...NOT_KNOWN, count: 0, of: 0 };
  expect(findingsOf(none, none)).toEqual([]);
  expect(findingsOf({ estimate: 0.5, low: 0.1, high: 0.9, count: 1, of: 2 }, none, null)).toEqual([]);
  expect(benchFindings({ endPlay: { unit: "mm", window: WINDOW }, bench: { ...benchAnswerOf(), groups: [] } })).toEqual(
    [],
  );
});
