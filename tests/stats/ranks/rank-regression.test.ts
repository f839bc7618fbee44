import { describe, expect, it } from "vitest";
import type { Lives } from "../../../src/stats/lives.ts";
import { adjustedRanks } from "../../../src/stats/ranks/adjusted-ranks.ts";
import { type RegressionDirection, rankRegression } from "../../../src/stats/ranks/rank-regression.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const cases = [
  {
    source: "Lieblein & Zelen 1956",
    of: new PublishedCase("01_ball_bearings"),
    time: "revolutions_million",
    failed: "failed",
  },
  {
    source: "NIST/SEMATECH e-Handbook 8.2.2.1",
    of: new PublishedCase("02_nist_censored"),
    time: "hours",
    failed: "failed",
  },
  { source: "Nelson 1982, fans", of: new PublishedCase("03_genfan"), time: "hours", failed: "status" },
];
const directions: [string, RegressionDirection][] = [
  ["x_on_y", "age on position"],
  ["y_on_x", "position on age"],
];

describe.each(cases)("rankRegression agrees with lm() of R: $source", ({ of, time, failed }) => {
  const ranks = adjustedRanks({ time: of.numbers(time), failed: of.flags(failed) });
  const age = Float64Array.from(ranks, (rank) => rank.time);
  const positions = {
    exact: Float64Array.from(ranks, ({ medianRank }) => medianRank),
    benard: Float64Array.from(ranks, ({ approximateMedianRank }) => approximateMedianRank),
  };
  it.each(["exact", "benard"] as const)("with %s median ranks, in both directions", (kind) => {
    for (const [name, direction] of directions) {
      const line = rankRegression(age, positions[kind], direction);
      for (const figure of ["shape", "scale"] as const) {
        const { value, tolerance } = of.value(`mrr.${kind}.${name}.${figure}`);
        expectAgreement(line?.[figure], value, tolerance, `${name} ${figure}`);
      }
      const { value, tolerance } = of.value(`mrr.${kind}.r2`);
      expectAgreement(line?.rSquared, value, tolerance, "r squared");
    }
  });
});

describe("rankRegression", () => {
  it("W-WB4: Abernethy's handbook ch. 2 (from memory): 2.02 and 95.0, the other direction 1.93 and 96.9", () => {
    const ranks = adjustedRanks({
      time: Float64Array.of(10, 30, 45, 49, 82, 90, 96, 100),
      failed: Uint8Array.of(0, 1, 0, 1, 1, 1, 1, 0),
    });
    const age = Float64Array.from(ranks, ({ time }) => time);
    const position = Float64Array.from(ranks, ({ approximateMedianRank }) => approximateMedianRank);
    const line = rankRegression(age, position, "age on position");
    expectAgreement(line?.shape, 2.02, { abs: 0.01 });
    expectAgreement(line?.scale, 95, { abs: 0.1 });
    const other = rankRegression(age, position, "position on age");
    expectAgreement(other?.shape, 1.93, { abs: 0.01 });
    expectAgreement(other?.scale, 96.9, { abs: 0.1 });
  });

  const lineOf = (lives: Lives, direction: RegressionDirection) => {
    const ranks = adjustedRanks(lives);
    const age = Float64Array.from(ranks, ({ time }) => time);
    return rankRegression(
      age,
      Float64Array.from(ranks, ({ medianRank }) => medianRank),
      direction,
    );
  };
  const fans = new PublishedCase("03_genfan");
  const fanLives = { time: fans.numbers("hours"), failed: fans.flags("status") };

  it("draws both lines through five failures on exact ranks (R: t = log(2^(0:4)); y = log(-log(1 - qbeta(0.5, 1:5, 5:1))); lm(t ~ y); lm(y ~ t))", () => {
    const lives = { time: Float64Array.of(1, 2, 4, 8, 16), failed: new Uint8Array(5).fill(1) };
    const known = lineOf(lives, "age on position");
    expectAgreement(known?.shape, 0.957655048286, { rel: 1e-6 });
    expectAgreement(known?.scale, 6.68115375148, { rel: 1e-6 });
    const other = lineOf(lives, "position on age");
    expectAgreement(other?.shape, 0.938656646122, { rel: 1e-6 });
    expectAgreement(other?.scale, 6.75088583475, { rel: 1e-6 });
    expectAgreement(other?.rSquared, 0.980161539171, { rel: 1e-6 });
  });

  it("draws one line for counted lives and for a row each, removals and ties among them", () => {
    const rows = {
      time: Float64Array.of(20, 20, 35, 50, 50, 50, 80, 80),
      failed: Uint8Array.of(1, 1, 0, 1, 1, 1, 0, 0),
    };
    const counted = {
      time: Float64Array.of(80, 50, 35, 20),
      failed: Uint8Array.of(0, 1, 0, 1),
      count: Float64Array.of(2, 3, 1, 2),
    };
    for (const [, direction] of directions) expect(lineOf(counted, direction)).toEqual(lineOf(rows, direction));
  });

  it.each([1e-6, 1e9])("goes with the unit of the ages: fans, times %d", (unit) => {
    const plain = lineOf(fanLives, "age on position");
    const scaled = lineOf({ ...fanLives, time: fanLives.time.map((hours) => hours * unit) }, "age on position");
    expectAgreement(scaled?.shape, plain!.shape, { rel: 1e-9 });
    expectAgreement(scaled?.scale, plain!.scale * unit, { rel: 1e-9 });
  });

  it("has two shapes whose ratio is the squared correlation, by algebra", () => {
    const [known, other] = directions.map(([, direction]) => lineOf(fanLives, direction)!);
    expectAgreement(other!.shape / known!.shape, known!.rSquared, { rel: 1e-12 });
  });

  it("has no line where positions fall with age, or rise so little that the scale has no number", () => {
    const positions = Float64Array.of(0.6, 0.2);
    for (const [, direction] of directions) {
      expect(rankRegression(Float64Array.of(10, 20), positions, direction)).toBeNull();
      expect(rankRegression(Float64Array.of(1, 1e300), Float64Array.of(0.1, 0.1 + 1e-12), direction)).toBeNull();
    }
  });

  it("has no line through one point or one age", () => {
    expect(rankRegression(Float64Array.of(5), Float64Array.of(0.5), "age on position")).toBeNull();
    expect(rankRegression(Float64Array.of(5, 5), Float64Array.of(0.3, 0.7), "age on position")).toBeNull();
    expect(rankRegression(new Float64Array(0), new Float64Array(0), "age on position")).toBeNull();
  });

  it("refuses points that are not on the paper", () => {
    expect(() => rankRegression(Float64Array.of(5), Float64Array.of(1), "age on position")).toThrow(
      "age 5 at position 1",
    );
    expect(() => rankRegression(Float64Array.of(5), new Float64Array(0), "age on position")).toThrow(
      "1 ages and 0 positions",
    );
  });
});
