import { describe, expect, it } from "vitest";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";
import { logRank } from "../../../src/stats/survival/log-rank.ts";
import { permutedBlocks } from "../../../src/stats/trial/permuted-blocks.ts";
import { spendingBounds } from "../../../src/stats/trial/spending-bounds.ts";

const TRIALS = 10_000;
const SEED = 2026;
const PLANNED = 75;
const LOOKS = [25, 50, 75];

/** A trial without an effect: 160 builds over 24 months in two strata whose lives differ, shape 1.5, one in eight removed unfailed. */
type Trial = { arm: Int32Array; stratum: Int32Array; start: Float64Array; end: Float64Array; failed: Uint8Array };

function nullTrial(number: number): Trial {
  const stream = streamOf(SEED, number);
  const { arm, stratum } = permutedBlocks({ ratio: [1, 1], blockSizes: [4, 6], strata: [100, 60], seed: number });
  const start = Float64Array.from(arm, () => 24 * stream.uniform());
  const scales = [30, 20];
  const life = Float64Array.from(stratum, (one) => scales[one]! * exponential(stream) ** (1 / 1.5));
  const removal = Float64Array.from(arm, () => 150 * exponential(stream));
  return {
    arm,
    stratum,
    start,
    end: start.map((from, build) => from + Math.min(life[build]!, removal[build]!)),
    failed: Uint8Array.from(life, (age, build) => (age <= removal[build]! ? 1 : 0)),
  };
}

function exponential(stream: Stream): number {
  return -Math.log(1 - stream.uniform());
}

/** Months at which so many failures have been seen; none beyond those that come. */
function monthsOf({ end, failed }: Trial, counts: number[]): number[] {
  const ends = end.filter((_, build) => failed[build] === 1).sort();
  return counts.filter((count) => count <= ends.length).map((count) => ends[count - 1]!);
}

/** The standardised log-rank statistic of what is known at a month. */
function statisticAt({ arm, stratum, start, end, failed }: Trial, month: number): number {
  const built = Array.from(arm.keys()).filter((build) => start[build]! < month);
  const lives = {
    time: Float64Array.from(built, (build) => Math.min(end[build]!, month) - start[build]!),
    failed: Uint8Array.from(built, (build) => (end[build]! <= month ? failed[build]! : 0)),
  };
  const group = Int32Array.from(built, (build) => arm[build]!);
  const strata = Int32Array.from(built, (build) => stratum[build]!);
  return Math.sqrt(logRank(lives, { group, groups: 2, stratum: strata }).statistic ?? 0);
}

function shareStopped(counts: number[]): number {
  const { looks } = spendingBounds(counts, { planned: PLANNED });
  if (looks === null) throw new Error("no bounds");
  let stopped = 0;
  for (let number = 0; number < TRIALS; number++) {
    const trial = nullTrial(number);
    const months = monthsOf(trial, counts);
    const bounds = looks.map(({ bound }) => bound ?? Number.POSITIVE_INFINITY);
    if (months.some((month, look) => statisticAt(trial, month) >= bounds[look]!)) stopped++;
  }
  return stopped / TRIALS;
}

describe("a trial without an effect, looked at three times", () => {
  it.each([
    { name: "as planned", counts: LOOKS },
    { name: "at other counts than planned, the last beyond the plan", counts: [18, 58, 80] },
  ])("finds one in 4.4 to 5.6 % of 10,000, $name", ({ name, counts }) => {
    const share = shareStopped(counts);
    process.stdout.write(`trial error ${name}: ${(100 * share).toFixed(2)} %\n`);
    expect(share).toBeGreaterThan(0.044);
    expect(share).toBeLessThan(0.056);
  });
});
