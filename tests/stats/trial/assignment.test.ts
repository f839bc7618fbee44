import { describe, expect, it } from "vitest";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { logRank } from "../../../src/stats/survival/log-rank.ts";
import { logRankScores } from "../../../src/stats/trial/log-rank-scores.ts";
import { type BlockDesign, permutedBlocks } from "../../../src/stats/trial/permuted-blocks.ts";
import { type Assigned, reRandomisedLogRank } from "../../../src/stats/trial/re-randomisation.ts";
import { expectAgreement } from "../../agree.ts";

const design: BlockDesign = { ratio: [1, 1], blockSizes: [4, 6], strata: [50, 0, 37], seed: 20_261_126 };

function rowsOf(found: ReturnType<typeof permutedBlocks>, stratum: number) {
  return Array.from(found.arm.keys()).filter((row) => found.stratum[row] === stratum);
}

describe("permutedBlocks", () => {
  it.each([
    design,
    { ratio: [2, 1], blockSizes: [3, 6, 9], strata: [100], seed: 1 },
    { ratio: [1, 1, 1, 1], blockSizes: [4, 8], strata: [33, 18], seed: -5 },
  ])("keeps the ratio $ratio in every whole block of sizes $blockSizes", (one) => {
    const found = permutedBlocks(one);
    const least = one.ratio.reduce((sum, share) => sum + share, 0);
    for (const [stratum, builds] of one.strata.entries()) {
      const rows = rowsOf(found, stratum);
      expect(rows).toHaveLength(builds);
      const last = found.block[rows.at(-1) ?? 0];
      for (let block = 0; block < (last ?? 0); block++) {
        const arms = rows.filter((row) => found.block[row] === block).map((row) => found.arm[row]!);
        expect(one.blockSizes).toContain(arms.length);
        for (const [arm, share] of one.ratio.entries()) {
          expect(arms.filter((other) => other === arm)).toHaveLength((share * arms.length) / least);
        }
      }
    }
  });

  it("is never farther from balance than half the largest block", () => {
    const { arm } = permutedBlocks({ ...design, strata: [1000] });
    let apart = 0;
    for (const one of arm) {
      apart += one === 0 ? 1 : -1;
      expect(Math.abs(apart)).toBeLessThanOrEqual(3);
    }
  });

  it("gives the same list for the same seed, another for another, and begins a longer list alike", () => {
    expect(permutedBlocks(design)).toEqual(permutedBlocks(design));
    expect(permutedBlocks({ ...design, seed: 1 }).arm).not.toEqual(permutedBlocks(design).arm);
    const longer = permutedBlocks({ ...design, strata: [80, 0, 37, 9] });
    const arms = (found: typeof longer, stratum: number) => rowsOf(found, stratum).map((row) => found.arm[row]);
    expect(arms(longer, 0).slice(0, 50)).toEqual(arms(permutedBlocks(design), 0));
    expect(arms(longer, 2)).toEqual(arms(permutedBlocks(design), 2));
  });

  it("draws each order of a block, and each size, as often", () => {
    // 6 orders of AABB; chi-square, 5 degrees: 20.5 is exceeded once in 1,000 (R: qchisq(0.999, 5) = 20.515)
    const { arm } = permutedBlocks({ ratio: [1, 1], blockSizes: [4], strata: [24_000], seed: 3 });
    const orders = new Map<string, number>();
    for (let at = 0; at < arm.length; at += 4) {
      const order = arm.subarray(at, at + 4).join("");
      orders.set(order, (orders.get(order) ?? 0) + 1);
    }
    expect(orders.size).toBe(6);
    const distance = [...orders.values()].reduce((sum, times) => sum + (times - 1000) ** 2 / 1000, 0);
    expect(distance).toBeLessThan(20.515);
    const { block } = permutedBlocks({ ...design, strata: [50_000] });
    // mean size 5: 10,000 blocks, sd of their number about sqrt(10,000) / 5 = 20
    expect(Math.abs(block.at(-1)! - 10_000)).toBeLessThan(100);
  });

  it("refuses designs that can't be", () => {
    expect(() => permutedBlocks({ ...design, ratio: [1] })).toThrow("two or more whole numbers from 1");
    expect(() => permutedBlocks({ ...design, ratio: [1, 0] })).toThrow(RangeError);
    expect(() => permutedBlocks({ ...design, ratio: [2, 1] })).toThrow('multiples of 3, found "4,6"');
    expect(() => permutedBlocks({ ...design, blockSizes: [] })).toThrow("sizes of blocks must be multiples of 2");
    expect(() => permutedBlocks({ ...design, strata: [2.5] })).toThrow("builds of a stratum must be whole numbers");
    expect(() => permutedBlocks({ ...design, seed: Number.NaN })).toThrow("the seed must be whole");
  });
});

describe("logRankScores", () => {
  it("sum over an arm to the log-rank test's observed less expected, with strata and late entry", () => {
    const stream = streamOf(9, 0);
    const size = 60;
    const column = (draw: () => number) => Float64Array.from({ length: size }, draw);
    const entry = column(() => stream.below(4));
    const lives = {
      entry,
      time: entry.map((from) => from + 1 + stream.below(12)),
      failed: Uint8Array.from({ length: size }, () => stream.below(2)),
    };
    const group = Int32Array.from({ length: size }, () => stream.below(3));
    const stratum = Int32Array.from({ length: size }, () => stream.below(2));
    const sums = new Float64Array(3);
    for (const [build, score] of logRankScores(lives, stratum).entries()) sums[group[build]!]! += score;
    for (const [arm, found] of logRank(lives, { group, groups: 3, stratum }).groups.entries()) {
      expectAgreement(sums[arm], found.observed - found.expected, { abs: 1e-12 });
    }
  });
});

describe("reRandomisedLogRank", () => {
  const time = Float64Array.of(1, 2, 3, 4);
  const all = Uint8Array.of(1, 1, 1, 1);
  const oneBlock = (arm: number[]): Assigned => ({
    arm: Int32Array.from(arm),
    arms: 2,
    block: new Int32Array(arm.length),
  });

  // By hand: scores 3/4, 5/12, -1/12, -13/12. |sum| of an arm is 14/12 for {1, 2} and {3, 4}, 8/12 for {1, 3} and {2, 4},
  // 4/12 for {1, 4} and {2, 3}
  it.each([
    { arm: [0, 0, 1, 1], p: 2 / 6 },
    { arm: [1, 0, 1, 0], p: 4 / 6 },
    { arm: [0, 1, 1, 0], p: 1 },
  ])("goes through all orders of a block: $arm has p $p", ({ arm, p }) => {
    const found = reRandomisedLogRank({ time, failed: all }, oneBlock(arm), { seed: 1 });
    expectAgreement(found.p, p, { abs: 1e-12 });
    expect(found).toMatchObject({ exact: true, assignments: 6 });
  });

  it("keeps to blocks: two of two builds can come in four ways", () => {
    const assigned = { arm: Int32Array.of(0, 1, 0, 1), arms: 2, block: Int32Array.of(0, 0, 1, 1) };
    // By hand: arm 0 has {1, 3}, {1, 4}, {2, 3} or {2, 4}: 8/12, -4/12, 4/12, -8/12
    expect(reRandomisedLogRank({ time, failed: all }, assigned, { seed: 1 })).toMatchObject({ p: 0.5, assignments: 4 });
    const stratum = Int32Array.of(0, 0, 1, 1);
    const apart = { ...assigned, block: new Int32Array(4), stratum };
    // By hand: scores 1/2 and -1/2 in each stratum: 1, 0, 0, -1
    expect(reRandomisedLogRank({ time, failed: all }, apart, { seed: 1 })).toMatchObject({ p: 0.5, assignments: 4 });
  });

  it("compares three arms", () => {
    const assigned = { arm: Int32Array.of(0, 1, 2), arms: 3, block: new Int32Array(3) };
    // By hand: one build an arm, so that each of the 6 orders differs as much
    const three = { time: Float64Array.of(1, 2, 3), failed: Uint8Array.of(1, 1, 1) };
    expect(reRandomisedLogRank(three, assigned, { seed: 1 })).toMatchObject({ p: 1, assignments: 6, exact: true });
  });

  it("takes a cut block for what it is", () => {
    const assigned = { arm: Int32Array.of(0, 1, 1, 0, 0), arms: 2, block: Int32Array.of(0, 0, 0, 0, 1) };
    const found = reRandomisedLogRank(
      { time: Float64Array.of(1, 2, 3, 4, 5), failed: new Uint8Array(5).fill(1) },
      assigned,
      { seed: 1 },
    );
    expect(found).toMatchObject({ exact: true, assignments: 6 });
  });

  it("draws where there are too many, close to all of them, and the same for the same seed", () => {
    const stream = streamOf(4, 0);
    const { arm, block } = permutedBlocks({ ratio: [1, 1], blockSizes: [6], strata: [18], seed: 12 });
    const lives = {
      time: Float64Array.from(arm, (one) => 1 + stream.below(20) + 4 * one),
      failed: Uint8Array.from(arm, () => stream.below(2)),
    };
    const exact = reRandomisedLogRank(lives, { arm, arms: 2, block }, { draws: 10_000, seed: 1 });
    const drawn = reRandomisedLogRank(lives, { arm, arms: 2, block }, { draws: 4000, seed: 1 });
    expect([exact.exact, exact.assignments, drawn.exact, drawn.assignments]).toEqual([true, 8000, false, 4000]);
    expectAgreement(drawn.p, (1 + drawn.asExtreme) / 4001, { abs: 1e-15 });
    expectAgreement(drawn.p, exact.p!, { abs: 4 * Math.sqrt((exact.p! * (1 - exact.p!)) / 4000) });
    expect(reRandomisedLogRank(lives, { arm, arms: 2, block }, { draws: 4000, seed: 1 })).toEqual(drawn);
  });

  it("finds at most 5 % of null sets of a few failures at 5 %, where chi-square would find more", () => {
    const sets = 1000;
    let found = 0;
    for (let set = 0; set < sets; set++) {
      const stream = streamOf(77, set);
      const { arm, block } = permutedBlocks({ ratio: [1, 1], blockSizes: [4, 6], strata: [16], seed: set });
      const age = Float64Array.from(arm, () => -Math.log(1 - stream.uniform()));
      const lives = {
        time: age.map((one) => Math.min(one, 0.5)),
        failed: Uint8Array.from(age, (one) => (one <= 0.5 ? 1 : 0)),
      };
      const { p } = reRandomisedLogRank(lives, { arm, arms: 2, block }, { draws: 199, seed: set });
      if (p !== null && p <= 0.05) found++;
    }
    // 5 % and three standard errors of 1,000 sets
    expect(found / sets).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / sets));
    expect(found / sets).toBeGreaterThan(0.02);
  });

  it("says so where no assignment would show anything", () => {
    const none = { time, failed: new Uint8Array(4) };
    expect(reRandomisedLogRank(none, oneBlock([0, 0, 1, 1]), { seed: 1 })).toMatchObject({
      p: null,
      reason: "there are no failures",
    });
    const apart = { arm: Int32Array.of(0, 1, 0, 1), arms: 2, block: Int32Array.of(0, 1, 2, 3) };
    const reason = "no block has builds of two arms that fared differently";
    expect(reRandomisedLogRank({ time, failed: all }, apart, { seed: 1 })).toMatchObject({ p: null, reason });
    const alike = { time: Float64Array.of(5, 5, 5, 5), failed: all };
    expect(reRandomisedLogRank(alike, oneBlock([0, 0, 1, 1]), { seed: 1 })).toMatchObject({ p: null, reason });
  });

  it("refuses what are no builds", () => {
    const lives = { time, failed: all };
    expect(() =>
      reRandomisedLogRank({ ...lives, count: new Float64Array(4) }, oneBlock([0, 0, 1, 1]), { seed: 1 }),
    ).toThrow("found counts");
    expect(() => reRandomisedLogRank(lives, oneBlock([0, 0, 1]), { seed: 1 })).toThrow("arm has 3 values, expected 4");
    expect(() => reRandomisedLogRank(lives, oneBlock([0, 0, 1, 2]), { seed: 1 })).toThrow("found arm 2 of 2");
    expect(() => reRandomisedLogRank(lives, oneBlock([0, 0, 1, 1]), { seed: 1, draws: 0 })).toThrow(
      "draws must be a whole number",
    );
  });
});
