import { describe, expect, it } from "vitest";
import type { GaugeReadings } from "../../../src/stats/gauge/gauge-readings.ts";
import { gaugeStudy } from "../../../src/stats/gauge/gauge-study.ts";
import { repeatSpread } from "../../../src/stats/gauge/repeat-spread.ts";
import { expectAgreement } from "../../agree.ts";
import { MODULES } from "./modules.ts";

const lines = MODULES.split("\n").map((line) => line.split(" ").map(Number));

/** The modules as read by the first of these inspectors. */
function readBy(inspectors: number): GaugeReadings {
  const rows = lines.flatMap((line, frame) =>
    line.slice(0, 3 * inspectors).map((reading, at) => ({ frame, fitter: Math.floor(at / 3), reading })),
  );
  return {
    frame: Int32Array.from(rows, (row) => row.frame),
    fitter: Int32Array.from(rows, (row) => row.fitter),
    reading: Float64Array.from(rows, (row) => row.reading),
  };
}

describe("repeatSpread()", () => {
  it("is the repeatability of a crossed study, with its limits", () => {
    const { components } = gaugeStudy(readBy(3));
    const { sd, limits } = components!.repeatability;
    const found = repeatSpread(readBy(3))!;
    expectAgreement(found.sd, sd, { rel: 1e-12 });
    expectAgreement(found.low, limits!.low, { rel: 1e-12 });
    expectAgreement(found.high, limits!.high, { rel: 1e-12 });
  });

  // R 4.2.2: residuals of anova(lm(reading ~ frame)) of the first inspector's readings, chi-square limits
  it("is had from one inspector's readings", () => {
    const found = repeatSpread(readBy(1))!;
    expectAgreement(found.sd, 0.683130051064, { rel: 1e-10 });
    expectAgreement(found.low, 0.522634887693, { rel: 1e-10 });
    expectAgreement(found.high, 0.986487264434, { rel: 1e-10 });
  });

  // The same without the first and the last reading, limits at 90 %
  it("is had from unequal numbers of readings", () => {
    const { frame, fitter, reading } = readBy(1);
    const some = { frame: frame.slice(1, -1), fitter: fitter.slice(1, -1), reading: reading.slice(1, -1) };
    const found = repeatSpread(some, 0.9)!;
    expectAgreement(found.sd, Math.SQRT1_2, { rel: 1e-10 }); // squares of 9 over 18 degrees of freedom
    expectAgreement(found.low, 0.558345643907, { rel: 1e-10 });
    expectAgreement(found.high, 0.978989276972, { rel: 1e-10 });
  });

  it("keeps its digits where readings are far from 0", () => {
    const { reading, ...places } = readBy(1);
    const far = repeatSpread({ ...places, reading: reading.map((value) => value + 1e8) })!;
    expectAgreement(far.sd, 0.683130051064, { rel: 1e-7 });
  });

  it("is none without repeats, 0 where they are alike, and refuses what is no reading", () => {
    const once = { frame: Int32Array.of(0, 1), fitter: Int32Array.of(0, 0), reading: Float64Array.of(3, 4) };
    expect(repeatSpread(once)).toBeNull();
    expect(repeatSpread({ ...once, frame: Int32Array.of(0, 0), reading: Float64Array.of(3, 3) })).toEqual({
      sd: 0,
      low: 0,
      high: 0,
    });
    expect(
      repeatSpread({ frame: new Int32Array(0), fitter: new Int32Array(0), reading: new Float64Array(0) }),
    ).toBeNull();
    expect(() => repeatSpread({ ...once, reading: Float64Array.of(3, Number.NaN) })).toThrow(RangeError);
    expect(() => repeatSpread(once, 1)).toThrow(RangeError);
  });
});
