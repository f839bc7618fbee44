import { expect, it } from "vitest";
import { fitSurface } from "../../../src/stats/fit/fit.ts";
import { replicates } from "../../../src/stats/fit/replicates.ts";
import { surfaceOf } from "../../../src/stats/fit/surface-of.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { shapeBias } from "../../../src/stats/small-sample/shape-bias.ts";
import { expectAgreement } from "../../agree.ts";

const SETS = 1000;
const SHAPE = 1.6;

/** 30 Weibull lives of scale 9000, followed to ages spread evenly over 0 to 18000: half of them fail. */
function staggered(set: number) {
  const stream = streamOf(20261128, set);
  const time = new Float64Array(30);
  const failed = new Uint8Array(30);
  for (let life = 0; life < 30; life++) {
    const age = 9000 * (-Math.log1p(-stream.uniform())) ** (1 / SHAPE);
    const end = 18_000 * (1 - stream.uniform());
    time[life] = Math.min(age, end);
    failed[life] = age <= end ? 1 : 0;
  }
  return { time, failed };
}

it("corrects the shape of lives followed for unlike times, seed 20261128", () => {
  const raw: number[] = [];
  const corrected: number[] = [];
  let low = 0;
  for (let set = 0; set < SETS; set++) {
    const lives = staggered(set);
    const surface = surfaceOf(lives, "weibull");
    const fit = "refused" in surface ? null : fitSurface(surface);
    if ("refused" in surface || !fit?.converged) continue;
    const drawn = replicates(lives, surface, fit, { draws: 199, seed: set });
    if ("reason" in drawn) continue;
    const bias = shapeBias(lives, fit, drawn.list);
    if (bias.byMean.corrected !== null) {
      raw.push(bias.raw);
      corrected.push(bias.byMean.corrected);
    }
    if (bias.byMedian.corrected! < SHAPE) low++;
  }
  const mean = (shapes: number[]) => shapes.reduce((sum, shape) => sum + shape, 0) / shapes.length / SHAPE;
  expect(raw.length).toBeGreaterThan(0.95 * SETS);
  expect(mean(raw)).toBeGreaterThan(1.05);
  // Three standard errors: the corrected shape spreads by a quarter of itself, 0.024 of a mean of 1000, and 0.048 of a share of a half.
  expectAgreement(mean(corrected), 1, { abs: 0.024 });
  expectAgreement(low / SETS, 0.5, { abs: 0.048 });
});
