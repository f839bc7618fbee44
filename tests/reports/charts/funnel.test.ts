import { describe, expect, it } from "vitest";
import { funnel, MOST_POINTS } from "../../../reports/charts/funnel.ts";
import { funnelLimits } from "../../../reports/charts/funnel-limits.ts";
import { entitiesOf, entityOf } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

describe("funnelLimits()", () => {
  it.each([
    // R 4.2: qchisq(c(.025, .975), c(2, 4)) / 2 for counts 1; k = 4, 9 likewise, with 2k and 2k + 2 degrees; .001 for 99.8 %
    { count: 1, level: 0.95, low: 0.02531781, high: 5.571643 },
    { count: 4, level: 0.95, low: 1.089865, high: 10.24159 },
    { count: 9, level: 0.95, low: 4.115373, high: 17.0848 },
    { count: 4, level: 0.998, low: 0.4285524, high: null },
    { count: 9, level: 0.998, low: 2.452424, high: null },
  ])("has knots where $count failures are just at the $level limits", ({ count, level, low, high }) => {
    const { upper, lower } = funnelLimits(20, level);
    expect(upper[count - 1]!.expected).toBeCloseTo(low, 5);
    expect(upper[count - 1]!.ratio).toBeCloseTo(count / low, 4);
    if (high !== null) expect(lower[count]!.expected).toBeCloseTo(high, 4);
  });

  it("lets a count lie outside exactly where its chance is under half of the rest", () => {
    const { upper, lower } = funnelLimits(30, 0.95);
    for (let expected = 0.3; expected < 30; expected += 0.37) {
      for (let count = 0; count <= 60; count++) {
        const isAbove = count > expected && upperTail(count, expected) < 0.025;
        const isBelow = count < expected && lowerTail(count, expected) < 0.025;
        const ratio = count / expected;
        expect([count, expected, ratio > along(upper, expected)]).toEqual([count, expected, isAbove]);
        expect([count, expected, ratio < along(lower, expected)]).toEqual([count, expected, isBelow]);
      }
    }
  });

  it("covers thousands of expected failures with few knots", () => {
    const { upper } = funnelLimits(50_000, 0.95);
    expect(upper.at(-1)!.expected).toBeGreaterThanOrEqual(50_000);
    expect(upper.length).toBeLessThan(600);
  });
});

/** The sum of Poisson's law itself. */
function lowerTail(count: number, mean: number): number {
  let term = Math.exp(-mean);
  let sum = term;
  for (let k = 1; k <= count; k++) {
    term *= mean / k;
    sum += term;
  }
  return sum;
}

function upperTail(count: number, mean: number): number {
  return count === 0 ? 1 : 1 - lowerTail(count - 1, mean);
}

/** Height of a curve at an expected number; before the first knot of the lower one there is no limit. */
function along(knots: { expected: number; ratio: number }[], at: number): number {
  const after = knots.findIndex(({ expected }) => expected >= at);
  const [low, high] = [knots[after - 1], knots[after]!];
  if (low === undefined) return high.ratio;
  return low.ratio + ((at - low.expected) / (high.expected - low.expected)) * (high.ratio - low.ratio);
}

describe("funnel()", () => {
  const words = { title: "Saltmere", of: "frames" };

  it("names who stands out and each limit, and nobody else", async () => {
    const shown = wordsOf(await draw(funnel(entitiesOf(40), words)));
    expect(shown).toEqual(expect.arrayContaining(["QF-001", "QF-002", "95 %", "99.8 %", "as expected"]));
    expect(shown).not.toContain("QF-003");
  });

  it("says in its description who stands out, or that nobody does", () => {
    expect(funnel(entitiesOf(40), words).description).toContain("QF-001 (14, expected 3.2)");
    expect(funnel([entityOf("A", 1, 1.2)], words).description).toContain("None stands out");
  });

  it.each([
    { name: "one frame", entities: [entityOf("A", 2, 3)] },
    { name: "nothing failed", entities: [entityOf("A", 0, 0.4), entityOf("B", 0, 1.3)] },
    { name: "one of whom nothing is expected", entities: [entityOf("A", 1, 0), entityOf("B", 1, 1)] },
    { name: "a wide span", entities: [0.01, 0.2, 3, 900].map((expected, at) => entityOf(`U${at}`, at, expected)) },
    { name: "an odd one far out", entities: [entityOf("A", 90, 2, { verdict: "offender" }), ...entitiesOf(9)] },
  ])("draws $name", async ({ entities }) => {
    const svg = await draw(funnel(entities, words));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("keeps all that stand out among 20,000, and stays within 2,000 marks", () => {
    const spec = funnel(
      entitiesOf(20_000, (index) => `U${index}`),
      words,
    );
    expect(marksOf(spec)).toBeLessThanOrEqual(2000);
    expect(marksOf(spec)).toBeGreaterThan(MOST_POINTS);
    expect(JSON.stringify(spec)).toContain('"U1"');
  });

  it("escapes what a name may hold, and sets names that would lie on each other apart", async () => {
    const hostile = "</text><script>alert(1)</script>";
    const near = [0, 1, 2].map((at) => entityOf(`${at}${hostile}`, 14, 3 + at / 50, { verdict: "offender" }));
    const spec = funnel([...near, ...entitiesOf(20).slice(2)], words);
    expect(await draw(spec)).not.toContain("<script");
    const { layer } = spec as unknown as { layer: { data?: { values: { name?: string; ratio: number }[] } }[] };
    const heights = layer.flatMap(({ data }) => (data?.values ?? []).filter(({ name }) => name !== undefined));
    expect(new Set(heights.map(({ ratio }) => ratio.toFixed(2))).size).toBe(3);
  });
});
