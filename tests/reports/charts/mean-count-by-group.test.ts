import { describe, expect, it } from "vitest";
import { MOST_CURVES, meanCountByGroup } from "../../../reports/charts/mean-count-by-group.ts";
import { meanCountOf } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

const WORDS = { title: "Saltmere", timeTitle: "Running hours", level: 0.95 };
const curves = (count: number, steps = 60) =>
  Array.from({ length: count }, (_, at) => ({
    name: `model ${at}`,
    units: 9,
    steps: meanCountOf(steps, 200 + 9 * at),
  }));

describe("meanCountByGroup()", () => {
  it("names each curve at its end, and tells them apart by dashes", async () => {
    const spec = meanCountByGroup(curves(3), WORDS);
    expect(wordsOf(await draw(spec))).toEqual(
      expect.arrayContaining(["model 0", "model 1", "model 2", "Rebuilds a unit", "Running hours"]),
    );
    const { layer } = spec as unknown as { layer: { mark: { strokeDash?: number[] } }[] };
    const dashes = layer.flatMap(({ mark }) => (mark.strokeDash === undefined ? [] : [mark.strokeDash.join()]));
    expect(new Set(dashes).size).toBe(3);
  });

  it("draws no more than can be told apart, within 2,000 marks", () => {
    const spec = meanCountByGroup(curves(9, 5000), WORDS);
    expect(marksOf(spec)).toBeLessThanOrEqual(2000);
    expect(spec.description).toContain(`model ${MOST_CURVES - 1} `);
    expect(spec.description).not.toContain(`model ${MOST_CURVES} `);
  });

  it("draws a single step without limits, and a hostile name as text", async () => {
    const [step] = meanCountOf(1, 500);
    const steps = [{ ...step!, low: null, high: null }];
    const svg = await draw(meanCountByGroup([{ name: "<script>1</script>", units: 1, steps }], WORDS));
    expect(svg).not.toMatch(/NaN|undefined|Infinity|<script/);
  });
});
