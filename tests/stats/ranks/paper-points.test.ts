import { describe, expect, it } from "vitest";
import { adjustedRanks } from "../../../src/stats/ranks/adjusted-ranks.ts";
import { jumpMiddles, paperPoints } from "../../../src/stats/ranks/paper-points.ts";
import { countedKaplanMeier } from "../../../src/stats/survival/kaplan-meier.ts";
import { countedLives } from "../../../src/stats/survival/risk-table.ts";
import { expectAgreement } from "../../agree.ts";

describe("paperPoints", () => {
  it("are exact median ranks of adjusted ranks where all lives were watched from the start", () => {
    const lives = {
      time: Float64Array.of(10, 30, 45, 49),
      failed: Uint8Array.of(0, 1, 0, 1),
      entry: new Float64Array(4),
    };
    expect(paperPoints(lives, 5)).toEqual(
      adjustedRanks(lives).map(({ time, rank, medianRank }) => ({ time, rank, fractionFailed: medianRank })),
    );
  });

  it("are middles of the jumps under late entry: survival 2/3, 4/9, 8/27, 4/27 by hand (D-1)", () => {
    const lives = {
      time: Float64Array.of(3, 6, 5, 9, 8),
      failed: Uint8Array.of(1, 1, 1, 0, 1),
      entry: Float64Array.of(0, 0, 2, 4, 5),
    };
    const points = paperPoints(lives, 1);
    expect(jumpMiddles(countedKaplanMeier(countedLives(lives), { level: 0.5, limits: "log-log" }))).toEqual(points);
    expect(points.map(({ time, rank }) => [time, rank])).toEqual([3, 5, 6, 8].map((time) => [time, null]));
    const survival = [1, 2 / 3, 4 / 9, 8 / 27, 4 / 27];
    for (const [at, { fractionFailed }] of points.entries()) {
      expectAgreement(fractionFailed, 1 - (survival[at]! + survival[at + 1]!) / 2, { abs: 1e-12 });
    }
  });
});
