import { describe, expect, it } from "vitest";
import { adjustedRanks } from "../../../src/stats/ranks/adjusted-ranks.ts";
import { medianRank } from "../../../src/stats/ranks/median-rank.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

describe("adjustedRanks", () => {
  const published = [
    {
      source: "Nelson 1982, fans",
      of: new PublishedCase("03_genfan"),
      table: "adjusted_ranks",
      time: "hours",
      failed: "status",
      rows: 12,
    },
    {
      source: "Lieblein & Zelen 1956, bearings",
      of: new PublishedCase("01_ball_bearings"),
      table: "median_ranks",
      time: "revolutions_million",
      failed: "failed",
      rows: 23,
    },
  ];
  it.each(published)(
    "$source: rank, exact and approximate median rank (R: qbeta)",
    ({ of, table, time, failed, rows: number }) => {
      const { rows, tolerance } = of.table(table);
      const ranks = adjustedRanks({ time: of.numbers(time), failed: of.flags(failed) });
      expect(ranks).toHaveLength(number);
      for (const [at, row] of rows.entries()) {
        expect(ranks[at]!.time).toBe(row["time"]);
        expectAgreement(ranks[at]!.rank, row["adjusted_rank"]!, tolerance);
        expectAgreement(ranks[at]!.medianRank, row["median_rank_exact"]!, tolerance);
        expectAgreement(ranks[at]!.approximateMedianRank, row["median_rank_benard"]!, tolerance);
      }
    },
  );

  it("W-WB4: Abernethy's handbook ch. 2 (from memory): removals before, between and after", () => {
    const ranks = adjustedRanks({
      time: Float64Array.of(10, 30, 45, 49, 82, 90, 96, 100),
      failed: Uint8Array.of(0, 1, 0, 1, 1, 1, 1, 0),
    });
    const expected = [1.125, 2.4375, 3.75, 5.0625, 6.375];
    const positions = [9.82, 25.45, 41.07, 56.7, 72.32];
    expect(ranks).toHaveLength(5);
    for (const [at, { rank, approximateMedianRank }] of ranks.entries()) {
      expectAgreement(rank, expected[at]!, { abs: 1e-12 });
      expectAgreement(100 * approximateMedianRank, positions[at]!, { abs: 0.005 });
    }
  });

  it("W-WB5: five failures (from memory; beta distribution): exact 0.1294 ... 0.8706, approximate 0.1296 ... 0.8704", () => {
    const ranks = adjustedRanks({ time: Float64Array.of(1, 2, 3, 4, 5), failed: new Uint8Array(5).fill(1) });
    for (const [at, exact] of [0.1294, 0.3138, 0.5, 0.6862, 0.8706].entries()) {
      expectAgreement(ranks[at]!.medianRank, exact, { abs: 5e-5 });
    }
    for (const [at, close] of [0.1296, 0.3148, 0.5, 0.6852, 0.8704].entries()) {
      expectAgreement(ranks[at]!.approximateMedianRank, close, { abs: 5e-5 });
    }
  });

  it("gives counted lives a rank each", () => {
    const counted = adjustedRanks({
      time: Float64Array.of(5, 2),
      failed: Uint8Array.of(0, 1),
      count: Float64Array.of(2, 3),
    });
    const apart = adjustedRanks({ time: Float64Array.of(2, 2, 2, 5, 5), failed: Uint8Array.of(1, 1, 1, 0, 0) });
    expect(counted).toEqual(apart);
  });

  it("gives none where nothing failed", () => {
    expect(adjustedRanks({ time: Float64Array.of(5), failed: Uint8Array.of(0) })).toEqual([]);
  });

  it("refuses late entry and broken counts", () => {
    const lives = { time: Float64Array.of(2, 3), failed: Uint8Array.of(1, 1) };
    expect(() => adjustedRanks({ ...lives, entry: Float64Array.of(0, 1) })).toThrow("came under observation late");
    expect(() => adjustedRanks({ ...lives, count: Float64Array.of(0.5, 1) })).toThrow("is no whole number");
  });
});

describe("medianRank", () => {
  it("is 1 - 0.5^(1/n) for the first of n, by algebra", () => {
    for (const size of [1, 2, 10, 1000])
      expectAgreement(medianRank(1, size), -Math.expm1(Math.log(0.5) / size), { rel: 1e-12 });
  });

  it.each([
    [500, 1200, 0.416273268025179],
    [700.25, 1_000_000, 0.00069991646157460381],
    [250_000, 1_000_000, 0.24999958333352984],
    [999_501, 1_000_000, 0.99950033346036371],
  ])(
    "takes ranks far from both ends by a series: %d of %d (R: qbeta(0.5, rank, size - rank + 1))",
    (rank, size, exact) => {
      expectAgreement(medianRank(rank, size), exact, { rel: 1e-10 });
      expectAgreement(medianRank(rank, size) + medianRank(size + 1 - rank, size), 1, { abs: 1e-15 });
    },
  );

  it("refuses a rank that is not there", () => {
    expect(() => medianRank(0, 3)).toThrow("found rank 0 of 3");
    expect(() => medianRank(4, 3)).toThrow(RangeError);
  });
});
