import { describe, expect, it } from "vitest";
import { betweenGroups, type FoundBetweenGroups } from "../../../src/stats/measurements/between-groups.ts";
import { likeReadings } from "../../../src/stats/measurements/like-readings.ts";
import { shareInterval } from "../../../src/stats/measurements/share-interval.ts";
import { expectAgreement } from "../../agree.ts";

describe("shareInterval", () => {
  // R 4.2.2: prop.test(count, of, correct = FALSE, conf.level = level)$conf.int
  it.each([
    { count: 3, of: 10, level: 0.95, low: 0.1077912674, high: 0.6032218525 },
    { count: 3, of: 10, level: 0.9, low: 0.1268765839, high: 0.5583002041 },
    { count: 0, of: 20, level: 0.95, low: 0, high: 0.1611251581 },
    { count: 20, of: 20, level: 0.95, low: 0.8388748419, high: 1 },
    { count: 5, of: 147, level: 0.95, low: 0.0146144248, high: 0.0771472098 },
    { count: 1, of: 1, level: 0.95, low: 0.2065493144, high: 1 },
  ])("$count of $of at $level: $low to $high", ({ count, of, level, low, high }) => {
    const found = shareInterval(count, of, level);
    expectAgreement(found.estimate, count / of, { abs: 1e-15 });
    expectAgreement(found.low, low, { abs: 1e-9 });
    expectAgreement(found.high, high, { abs: 1e-9 });
  });

  it("says so of nothing, and refuses what is no count", () => {
    expect(shareInterval(0, 0, 0.95)).toEqual({ estimate: null, low: 0, high: 1, reason: "there are no readings" });
    expect(() => shareInterval(3, 2, 0.95)).toThrow("found 3 of 2");
    expect(() => shareInterval(-1, 2, 0.95)).toThrow(RangeError);
    expect(() => shareInterval(0.5, 2, 0.95)).toThrow(RangeError);
    expect(() => shareInterval(1, 2, 0)).toThrow("the level must lie in (0, 1)");
  });
});

describe("betweenGroups", () => {
  const readings = Float64Array.of(3.9, 4.1, 4.4, 4, 4.8, 5.1, 3.2, 3.6, 3.5, 3.9, 3.3, 4.6);
  const group = Int32Array.of(0, 0, 0, 0, 1, 1, 2, 2, 2, 2, 2, 7);

  function found(...of: Parameters<typeof betweenGroups>): FoundBetweenGroups {
    const answer = betweenGroups(...of);
    if (answer.share === null) throw new Error(answer.reason);
    return answer;
  }

  it("agrees with R on groups of four, two, five and one", () => {
    // R 4.2.2: anova(lm(v ~ f)): mean squares 1.147222, 0.060625, p 0.000543691214316; n0 = (12 - 46 / 12) / 3 = 2.722222;
    // (1.147222 - 0.060625) / n0 = 0.399158; limits (L - 1) / (n0 + L - 1), L = F / qf(.975, 3, 8), and with qf(.025, 3, 8)
    const answer = found(readings, group, 0.95);
    expectAgreement(answer.betweenSd ** 2, 0.399158163265306, { rel: 1e-9 });
    expectAgreement(answer.withinSd ** 2, 0.060625, { rel: 1e-9 });
    expectAgreement(answer.share.estimate, 0.868144367076, { rel: 1e-9 });
    expectAgreement(answer.share.low, 0.478121598643, { rel: 1e-8 });
    expectAgreement(answer.share.high, 0.99016766179, { rel: 1e-8 });
    expectAgreement(answer.p, 0.000543691214316, { rel: 1e-8 });
    expect(answer).toMatchObject({ groups: 4, readings: 12, setToZero: false });
  });

  it("does not hang on the order of rows, or on the unit and middle of readings", () => {
    const far = readings.map((reading) => 1e5 + reading / 39.37).reverse();
    const answer = found(far, group.toReversed(), 0.95);
    expectAgreement(answer.share.estimate, 0.868144367076, { rel: 1e-7 });
  });

  it("sets a share below 0 to 0, and says so", () => {
    // By hand: group means 5, 5: nothing between, mean square within 2
    const answer = found(Float64Array.of(4, 6, 4, 6), Int32Array.of(0, 0, 1, 1), 0.95);
    expect(answer).toMatchObject({ betweenSd: 0, setToZero: true, p: 1, share: { estimate: 0, low: 0 } });
  });

  it("gives all to groups whose readings never differ", () => {
    const answer = found(Float64Array.of(4, 4, 6, 6), Int32Array.of(0, 0, 1, 1), 0.95);
    expect(answer).toMatchObject({ withinSd: 0, share: { estimate: 1, low: 1, high: 1 }, p: 0 });
  });

  it.each([
    { name: "no readings", values: [], groups: [], reason: "there are fewer than two groups" },
    { name: "one group", values: [1, 2], groups: [3, 3], reason: "there are fewer than two groups" },
    { name: "one reading each", values: [1, 2], groups: [0, 1], reason: "no group has two readings" },
    { name: "all alike", values: [0.1, 0.1, 0.1], groups: [0, 1, 1], reason: "all readings are alike" },
  ])("gives the reason for $name", ({ values, groups, reason }) => {
    expect(betweenGroups(Float64Array.from(values), Int32Array.from(groups), 0.95)).toEqual({ share: null, reason });
  });

  it("refuses what are no readings or groups", () => {
    expect(() => betweenGroups(readings, group.slice(1), 0.95)).toThrow("found 11 groups for 12 readings");
    expect(() => betweenGroups(Float64Array.of(1, Number.NaN), Int32Array.of(0, 0), 0.95)).toThrow(
      "reading 1 (counted from 0) is NaN of group 0",
    );
    expect(() => betweenGroups(Float64Array.of(1, 2), Int32Array.of(0, -1), 0.95)).toThrow("2 of group -1");
  });
});

describe("likeReadings", () => {
  const of = (...readings: number[]) => Float64Array.from(readings);
  // thresholds are our own; by hand: shares and counts
  it.each([
    {
      name: "half of ten at one value",
      readings: of(5, 5, 5, 5, 5, 4, 3, 6, 2, 7),
      copied: ["50 % of the readings are one value"],
    },
    { name: "four of ten", readings: of(5, 5, 5, 5, 4.5, 4, 3, 6, 2, 7), copied: [] },
    { name: "all of nine", readings: of(5, 5, 5, 5, 5, 5, 5, 5, 5), copied: [] },
    { name: "none", readings: of(), copied: [] },
  ])("$name", ({ readings, copied }) => {
    expect(likeReadings(readings, { target: 5 })).toMatchObject({ copied: copied.length > 0, reasons: copied });
  });

  it("counts what there is", () => {
    const found = likeReadings(of(5, 4.5, 5, 4, 4, 5 + 1e-12), { target: 5 });
    expect(found).toMatchObject({
      readings: 6,
      distinct: 3,
      mostFrequent: 5,
      times: 3,
      share: 0.5,
      shareAtTarget: 0.5,
      copied: false,
    });
    // By hand: mean 27.5 / 6, squares 5 (3 times), 4.5, 4 (twice) about it: 1.2083, over 5
    expectAgreement(
      found.sd,
      Math.sqrt((3 * (5 - 27.5 / 6) ** 2 + (4.5 - 27.5 / 6) ** 2 + 2 * (4 - 27.5 / 6) ** 2) / 5),
      { abs: 1e-9 },
    );
    expect(likeReadings(of(0, -0, 0))).toMatchObject({ distinct: 1, shareAtTarget: null, sd: 0 });
    expect(likeReadings(of())).toMatchObject({ mostFrequent: null, share: null, sd: null, times: 0 });
    expect(likeReadings(of(3, 4), { target: 5 }).shareAtTarget).toBe(0);
  });

  it("sees a spread below the gauge's own", () => {
    const readings = Float64Array.from({ length: 20 }, (_, at) => 5 + 0.01 * at);
    // By hand: sd 0.0592; R: 0.1 * sqrt(qchisq(.01, 19) / 19) = 0.0634, 0.09 * the same = 0.0570
    expect(likeReadings(readings, { gaugeSd: 0.1 }).reasons).toEqual([
      "the readings differ by less than the gauge's own error",
    ]);
    expect(likeReadings(readings, { gaugeSd: 0.09 }).copied).toBe(false);
  });

  it("refuses what are no readings", () => {
    expect(() => likeReadings(of(1, Number.NaN))).toThrow("reading 1 (counted from 0) is NaN");
    expect(() => likeReadings(of(1), { gaugeSd: -1 })).toThrow("gauge deviation -1");
    expect(() => likeReadings(of(1), { target: Number.NaN })).toThrow("found target NaN");
  });
});
