import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { describe, expect, it } from "vitest";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";
import type { ClusterRefits } from "../../../src/stats/regression/cluster-refits.ts";
import { jackknifeContrast } from "../../../src/stats/regression/jackknife-contrast.ts";
import { jackknifeTest } from "../../../src/stats/regression/jackknife-test.ts";
import { likelihoodRatioTest } from "../../../src/stats/regression/likelihood-ratio-test.ts";
import { naturalSpline, splineColumns } from "../../../src/stats/regression/natural-spline.ts";
import { refitWithoutClusters } from "../../../src/stats/regression/refit-without-clusters.ts";
import { column, fitted, type Regressed } from "./regression-data.ts";

const SEED = 20261128;
const SETS = 2000;
const LEVEL = 0.95;
/** Standard deviation of log life between units, and share of the variance of a reading that lies between them. */
const BETWEEN = 0.4;
const ALIKE = 0.5;

type Drawn = Regressed & { unit: Int32Array; plays: Float64Array };

/** Weibull lives of shape 1.8 of units that differ in life and in their readings, about half of them removed first. */
function drawn(stream: Stream, units: number, each: number, effect: number): Drawn {
  const normal = () => normalQuantile(1 - stream.uniform(), 0, 1);
  const weibull = () => (-Math.log(1 - stream.uniform())) ** (1 / 1.8);
  const size = units * each;
  const [time, plays, failed] = [new Float64Array(size), new Float64Array(size), new Uint8Array(size)];
  for (let life = 0, level = 0, own = 0; life < size; life++) {
    if (life % each === 0) [level, own] = [BETWEEN * normal(), normal()];
    const play = 4.5 + 1.2 * (Math.sqrt(ALIKE) * own + Math.sqrt(1 - ALIKE) * normal());
    const [end, removal] = [9000 * Math.exp(level + effect * (play - 4.5)) * weibull(), 11_000 * weibull()];
    plays[life] = play;
    time[life] = Math.min(end, removal);
    failed[life] = end <= removal ? 1 : 0;
  }
  const unit = Int32Array.from(time, (_, life) => Math.floor(life / each));
  return { lives: { time, failed }, covariates: [column("play", plays)], unit, plays };
}

function refits({ lives, covariates, unit }: Drawn): ClusterRefits {
  const found = refitWithoutClusters(lives, covariates, fitted({ lives, covariates }), unit, 1);
  if ("reason" in found) throw new Error(found.reason);
  return found;
}

function curved(set: Drawn): Drawn {
  const spline = naturalSpline(set.plays, { df: 3 });
  if ("reason" in spline) throw new Error(spline.reason);
  const covariates = splineColumns(spline, set.plays).map((values, at) => column(`play ${at}`, values));
  return { ...set, covariates };
}

function percent(of: (set: number) => boolean): number {
  let found = 0;
  for (let set = 0; set < SETS; set++) if (of(set)) found++;
  return (100 * found) / SETS;
}

// Of 2,000 sets at 95 or 5 % the standard error is 0.49 %.
describe.each([
  { units: 40, each: 7 },
  { units: 120, each: 3 },
])("leaving out each of $units units with $each lives, alike within a unit", ({ units, each }) => {
  it("holds the true effect of a reading in 93 to 97 per cent of sets", () => {
    const effect = -0.1;
    const held = percent((set) => {
      const { low, high } = jackknifeContrast(refits(drawn(streamOf(SEED, set), units, each, effect)), [0, 1], LEVEL);
      return low <= effect && effect <= high;
    });
    process.stdout.write(`${units} units: the interval holds the effect in ${held} %\n`);
    expect(held).toBeGreaterThanOrEqual(93);
    expect(held).toBeLessThanOrEqual(97);
  });

  it("finds a curve where there is none in at most 6.5 per cent of sets, the likelihood ratio in more", () => {
    let byLikelihood = 0;
    const found = percent((set) => {
      const one = curved(drawn(streamOf(SEED, set), units, each, 0));
      const none = fitted({ lives: one.lives, covariates: [] });
      if (likelihoodRatioTest(none, fitted(one)).p < 0.05) byLikelihood++;
      const test = jackknifeTest(refits(one), [1, 2, 3]);
      if ("reason" in test) throw new Error(test.reason);
      return test.p < 0.05;
    });
    const ratio = (100 * byLikelihood) / SETS;
    process.stdout.write(`${units} units: the jackknife finds ${found} %, the likelihood ratio ${ratio} %\n`);
    expect(found).toBeGreaterThanOrEqual(2.5);
    expect(found).toBeLessThanOrEqual(6.5);
    expect(ratio).toBeGreaterThan(found);
  });
});
