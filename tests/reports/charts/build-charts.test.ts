import { describe, expect, it } from "vitest";
import { crudeAndAdjusted, MOST_CONTRASTS } from "../../../reports/charts/crude-and-adjusted.ts";
import { effectCurve } from "../../../reports/charts/effect-curve.ts";
import { ratioAxis } from "../../../reports/charts/ratio-axis.ts";
import { survivalByBand } from "../../../reports/charts/survival-by-band.ts";
import { compareAnswerOf } from "../compare-fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

const NONE = { estimate: null, low: null, high: null };
const around = (estimate: number) => ({ estimate, low: estimate / 2, high: estimate * 2 });

describe("effectCurve()", () => {
  const words = { title: "Saltmere", valueTitle: "End play (thou)", level: 0.95, window: { low: 2, high: 7 } };

  it("draws curve, band, rug, window and best value, and says them", async () => {
    const answer = compareAnswerOf();
    const spec = effectCurve({ ...answer, ...words });
    expect(wordsOf(await draw(spec))).toEqual(expect.arrayContaining(["window", "longest lives", "End play (thou)"]));
    expect(spec.description).toContain("longest near 4.30 (3.58 to 5.16)");
    expect(marksOf(spec)).toBeLessThan(2000);
  });

  it("draws a curve without limits, window or best value", async () => {
    const curve = compareAnswerOf().curve.map((point) => ({ ...point, low: null, high: null }));
    const svg = await draw(effectCurve({ ...words, curve, rug: [], best: NONE, window: null }));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(wordsOf(svg)).not.toContain("window");
  });
});

describe("crudeAndAdjusted()", () => {
  const words = { title: "Saltmere", level: 0.95, matters: 1.15 };
  const row = (name: string) => ({
    name,
    bands: ["L1", "L99"],
    crude: around(1.3),
    adjusted: around(1.2),
  });

  it("sets crude above adjusted for each contrast, as many as there is room for", async () => {
    const rows = Array.from({ length: 30 }, (_, at) => row(`L${at} over L99`));
    const spec = crudeAndAdjusted(rows, words);
    const drawn = wordsOf(await draw(spec));
    expect(drawn).toContain(`L${MOST_CONTRASTS - 1} over L99`);
    expect(drawn).not.toContain(`L${MOST_CONTRASTS} over L99`);
    expect(spec.description).toContain("L0 over L99 1.30 (0.650 to 2.60) and 1.20 (0.600 to 2.40)");
  });

  it("leaves out what is not known, and draws hostile names as text", async () => {
    const name = "<script>1</script>";
    const adjusted = { estimate: 3, low: null, high: null };
    const rows = [{ name, bands: [name, name], crude: NONE, adjusted }];
    expect(await draw(crudeAndAdjusted(rows, words))).not.toMatch(/NaN|undefined|Infinity|<script/);
  });
});

describe("survivalByBand()", () => {
  const steps = [100, 200, 400].map((time, at) => ({
    time,
    atRisk: 9 - 3 * at,
    failed: 1,
    estimate: 0.9 - at / 4,
    se: 0.1,
    low: 0.2,
    high: 0.95,
  }));
  const band = { name: "2 to 3.5", steps, atRisk: [12, 9, 3] };

  it("names each band at its end and tells how many were at risk", async () => {
    const spec = survivalByBand([band, { ...band, name: "7 and over", atRisk: [77, 5, 0] }], {
      title: "Saltmere",
      timeTitle: "Running hours",
      ages: [0, 200, 400],
    });
    expect(wordsOf(await draw(spec))).toEqual(
      expect.arrayContaining(["2 to 3.5", "7 and over", "12", "77", "Running hours"]),
    );
  });
});

describe("ratioAxis()", () => {
  it("goes as far as ratios go, but not for one wide limit", () => {
    const { domain, ticks } = ratioAxis([0.001, 1.4, 900], [1.2, 1.4]);
    expect(domain[0]).toBeGreaterThan(0.3);
    expect(domain[1]).toBeLessThan(5);
    expect(ticks).toEqual([0.5, 0.7, 0.85, 1, 1.2, 1.5, 2, 3]);
  });
});
