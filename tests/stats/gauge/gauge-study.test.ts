import { describe, expect, it } from "vitest";
import type { GaugeReadings } from "../../../src/stats/gauge/gauge-readings.ts";
import { type FoundGaugeStudy, gaugeStudy } from "../../../src/stats/gauge/gauge-study.ts";
import { expectAgreement } from "../../agree.ts";
import { MODULES } from "./modules.ts";

/** A line a frame, equal numbers of readings a fitter beside each other. */
function crossed(text: string, fitters: number): GaugeReadings {
  const lines = text.split("\n").map((line) => line.trim().split(/\s+/).map(Number));
  const rows = lines.flatMap((line, frame) =>
    line.map((reading, at) => ({ frame, fitter: Math.floor((at * fitters) / line.length), reading })),
  );
  return {
    frame: Int32Array.from(rows, ({ frame }) => frame),
    fitter: Int32Array.from(rows, ({ fitter }) => fitter),
    reading: Float64Array.from(rows, ({ reading }) => reading),
  };
}

function without({ frame, fitter, reading }: GaugeReadings, rows: number[]): GaugeReadings {
  const kept = (_: number, row: number) => !rows.includes(row);
  return { frame: frame.filter(kept), fitter: fitter.filter(kept), reading: reading.filter(kept) };
}

function studyOf(readings: GaugeReadings, width?: number): FoundGaugeStudy {
  const found = gaugeStudy(readings, width === undefined ? {} : { width });
  if (found.components === null) throw new Error(found.reason);
  return found;
}

const modules = crossed(MODULES, 3);

describe("gaugeStudy on the modules of Houf & Berman 1988", () => {
  const found = studyOf(modules, 20);

  // R 4.2.2: anova(lm(y ~ frame * fitter)); published as 437.33, 19.63, 2.70, 0.51
  it.each([
    { of: "frame", value: 437.328395062, degrees: 9 },
    { of: "fitter", value: 19.6333333333, degrees: 2 },
    { of: "interaction", value: 2.6950617284, degrees: 18 },
    { of: "repeat", value: 0.511111111111, degrees: 60 },
  ] as const)("has the mean square $value of $of", ({ of, value, degrees }) => {
    expectAgreement(found.meanSquares[of].value, value, { rel: 1e-10 });
    expect(found.meanSquares[of].degrees).toBe(degrees);
  });

  // By hand from these: (437.3284 - 2.6951) / 9, (19.6333 - 2.6951) / 30, (2.6951 - 0.5111) / 3
  it.each([
    { of: "frame", variance: 48.2925925926 },
    { of: "fitter", variance: 0.564609053498 },
    { of: "interaction", variance: 0.727983539095 },
    { of: "repeatability", variance: 0.511111111111 },
    { of: "reproducibility", variance: 0.564609053498 + 0.727983539095 },
    { of: "gauge", variance: 1.8037037037 },
    { of: "total", variance: 48.2925925926 + 1.8037037037 },
  ] as const)("splits off $variance for $of", ({ of, variance }) => {
    const part = found.components[of];
    expectAgreement(part.variance, variance, { rel: 1e-10 });
    expectAgreement(part.sd, Math.sqrt(variance), { rel: 1e-10 });
    expectAgreement(part.shareOfVariance, variance / 50.0962962963, { rel: 1e-9 });
    expectAgreement(part.shareOfSpread, Math.sqrt(variance / 50.0962962963), { rel: 1e-9 });
    expectAgreement(part.shareOfWindow, (6 * Math.sqrt(variance)) / 20, { rel: 1e-10 });
  });

  it.each([
    // R. K. Burdick, C. M. Borror & D. C. Montgomery, J. Quality Technology 35 (2003) 342-354 print 1.20 and 27.02, 22.69 and 161.64
    // (from memory, recomputed with R's qchisq and qf)
    { of: "gauge", low: 1.20622557404, high: 27.01723883719 },
    { of: "frame", low: 22.69451908, high: 161.6391841517 },
    // R: 60 * 0.511111 / qchisq(c(.975, .025), 60), roots squared
    { of: "repeatability", low: 0.6067598662 ** 2, high: 0.8703694875 ** 2 },
  ] as const)("gives $of the limits $low and $high", ({ of, low, high }) => {
    const { limits } = found.components[of];
    expectAgreement(limits?.low, Math.sqrt(low), { rel: 1e-8 });
    expectAgreement(limits?.high, Math.sqrt(high), { rel: 1e-8 });
  });

  it("tells seven bands apart, and says what the study was", () => {
    // By hand: 1.41 * sqrt(48.2926 / 1.8037) = 7.296
    expect(found).toMatchObject({
      distinctBands: 7,
      frames: 10,
      fitters: 3,
      readings: 90,
      balanced: true,
      setToZero: [],
    });
    expect(studyOf(modules).components.gauge.shareOfWindow).toBeNull();
    expect(found.components.fitter.limits).toBeNull();
  });

  it("is the same in another unit, order, or about another middle", () => {
    const far = { ...modules, reading: modules.reading.map((value) => 1e6 + value * 0.0254) };
    expectAgreement(studyOf(far).components.gauge.sd, found.components.gauge.sd * 0.0254, { rel: 1e-6 });
    const turned = {
      frame: modules.frame.toReversed(),
      fitter: modules.fitter.toReversed(),
      reading: modules.reading.toReversed(),
    };
    expectAgreement(studyOf(turned).components.gauge.sd, found.components.gauge.sd, { rel: 1e-12 });
  });
});

describe("gaugeStudy where readings are few, missing or odd", () => {
  it("takes unweighted means where two readings are lost", () => {
    const found = studyOf(without(modules, [0, 49]));
    // R 4.2.2: m <- aggregate(y ~ frame + fitter, e, mean); anova(lm(y ~ frame + fitter, m)) times 30 / sum(1 / n); anova(lm(y ~ frame * fitter, e))
    expectAgreement(found.meanSquares.repeats, 2.903225806, { rel: 1e-9 });
    expectAgreement(found.meanSquares.frame.value, 423.65143369176, { rel: 1e-10 });
    expectAgreement(found.meanSquares.fitter.value, 18.56720430108, { rel: 1e-10 });
    expectAgreement(found.meanSquares.interaction.value, 2.52777777778, { rel: 1e-10 });
    expectAgreement(found.meanSquares.repeat.value, 0.525862068966, { rel: 1e-10 });
    expect([found.balanced, found.meanSquares.repeat.degrees]).toEqual([false, 58]);
  });

  it("sets components below 0 to 0, names them, and keeps the estimate within its limits", () => {
    const found = studyOf(crossed("5 7 6.5 5.5\n4 6 5 5.2\n6 5 4.8 6.1", 2));
    // R 4.2.2: mean squares 0.905833, 0.000833, 0.005833, 0.9775, so fitter and interaction come out below 0
    expect(found.setToZero).toEqual(["fitter", "interaction"]);
    expectAgreement(found.components.gauge.variance, 0.9775, { rel: 1e-10 });
    expectAgreement(found.components.frame.variance, (0.905833333333 - 0.005833333333) / 4, { rel: 1e-9 });
    const { sd, limits } = found.components.gauge;
    expect(limits?.low).toBeLessThanOrEqual(sd);
    expect(limits?.high).toBeGreaterThanOrEqual(sd);
    expect(found.distinctBands).toBe(0);
  });

  it("says so where no error showed, and keeps the rest", () => {
    const found = studyOf(crossed("1 1 1 1\n2 2 2 2\n4 4 4 4", 2));
    expect(found).toMatchObject({
      distinctBands: null,
      reason: "every fitter's readings of a frame are alike, as if copied or read too coarsely",
    });
    expect(found.components.gauge.sd).toBe(0);
  });

  it("sees none either where means of decimals are rounded", () => {
    const copied = ["2.1", "3.3", "4.7", "5.9", "6.1", "2.2", "0.3"].map((value) => Array(9).fill(value).join(" "));
    const found = studyOf(crossed(copied.join("\n"), 3));
    expect([found.components.gauge.sd, found.distinctBands]).toEqual([0, null]);
  });

  it.each([
    { name: "no readings", readings: crossed("", 1), frames: 0, reason: "there are no readings" },
    {
      name: "one frame",
      readings: crossed("1 2 3 4", 2),
      reason: "there is one frame only: what frames differ by can't be seen",
    },
    {
      name: "one fitter",
      readings: crossed("1 2\n3 4", 1),
      reason: "there is one fitter only: what fitters differ by can't be seen",
    },
    {
      name: "no repeats",
      readings: crossed("1 2\n3 5", 2),
      reason: "no fitter has measured a frame twice: what repeats differ by can't be seen",
    },
    { name: "all alike", readings: crossed("5 5 5 5\n5 5 5 5", 2), reason: "all readings are alike" },
  ])("gives the reason for $name", ({ name, readings, reason }) => {
    const empty = { frame: new Int32Array(0), fitter: new Int32Array(0), reading: new Float64Array(0) };
    expect(gaugeStudy(name === "no readings" ? empty : readings)).toEqual({ components: null, reason });
  });

  it("names the frame that a fitter has not measured", () => {
    const lost = without(modules, [42, 43, 44]);
    expect(gaugeStudy(lost)).toEqual({
      components: null,
      reason: "a fitter has not measured every frame",
      cell: { frame: 4, fitter: 2, readings: 0 },
    });
    const far = { frame: Int32Array.of(0, 2_000_000_000), fitter: Int32Array.of(0, 1), reading: Float64Array.of(1, 2) };
    expect(gaugeStudy(far)).toMatchObject({ cell: { frame: 0, fitter: 1 } });
  });

  it("refuses what are no readings", () => {
    expect(() => gaugeStudy({ ...modules, fitter: new Int32Array(3) })).toThrow(
      "columns differ in length, found 90 frames, 3 fitters",
    );
    expect(() => gaugeStudy({ ...modules, reading: modules.reading.map(() => Number.NaN) })).toThrow(
      "reading 0 (counted from 0) is frame 0, fitter 0, NaN",
    );
    expect(() => gaugeStudy({ ...modules, frame: modules.frame.map(() => -1) })).toThrow(RangeError);
    expect(() => gaugeStudy(modules, { width: 0 })).toThrow("the width of the window must be above 0, found 0");
    expect(() => gaugeStudy(modules, { level: 2 })).toThrow("the level must lie in (0, 1)");
  });
});
