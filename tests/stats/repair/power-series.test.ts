import { describe, expect, it } from "vitest";
import { gatherGaps } from "../../../src/stats/repair/gather-gaps.ts";
import { powerSeries, powerSumsAround } from "../../../src/stats/repair/power-series.ts";
import { powerSums } from "../../../src/stats/repair/power-sums.ts";
import type { RepairModel } from "../../../src/stats/repair/virtual-ages.ts";
import { VirtualAges } from "../../../src/stats/repair/virtual-ages.ts";
import { expectAgreement } from "../../agree.ts";

const UNITS = 40;
const REPAIRS = 5;
/** Units of which every third was watched late, repaired at uneven gaps, two repairs in three after a failure. */
function gapsOf(scale: number) {
  const unit = Int32Array.from({ length: UNITS * REPAIRS }, (_, row) => Math.floor(row / REPAIRS));
  const time = Float64Array.from(
    unit,
    (one, row) => scale * (700 * (row % REPAIRS) + 150 + ((37 * row + 11 * one) % 400)),
  );
  const end = Float64Array.from({ length: UNITS }, (_, one) => scale * (4200 + 13 * one));
  const entry = end.map((_, one) => (one % 3 === 0 ? scale * 400 : 0));
  const failed = Uint8Array.from(unit, (_, row) => (row % 3 === 0 ? 0 : 1));
  return gatherGaps({ unit, time, failed, entry, end, fromNew: new Uint8Array(UNITS).fill(1) });
}

function agesAt(model: RepairModel, degree: number, scale = 1) {
  const gaps = gapsOf(scale);
  const ages = new VirtualAges(gaps, model);
  ages.setDegree(degree);
  return { ages, failed: gaps.failed };
}

describe("powerSumsAround", () => {
  it.each([
    { model: "I", degree: 0 },
    { model: "I", degree: 0.3 },
    { model: "I", degree: 1 },
    { model: "II", degree: 0.05 },
    { model: "II", degree: 0.8 },
  ] as const)("gives the sums that a pass over the gaps gives: model $model, degree $degree", ({ model, degree }) => {
    for (const scale of [1, 1e-7]) {
      const { ages, failed } = agesAt(model, degree, scale);
      const series = powerSeries(ages, failed, 1.4);
      if (series === null) throw new Error("digits would be lost");
      for (const shape of [1.1, 1.39, 1.4, 1.41, 1.7]) {
        const expected = powerSums(ages, failed, shape, false);
        const found = powerSumsAround(series, shape);
        for (const part of ["s", "sk", "skk", "l", "largest"] as const) {
          expectAgreement(found?.[part], expected[part], { rel: 1e-11 }, `${part} at ${shape}`);
        }
      }
    }
  });

  it("gives none where the series does not reach", () => {
    const { ages, failed } = agesAt("I", 0.3);
    expect(powerSumsAround(powerSeries(ages, failed, 1.4)!, 40)).toBeNull();
  });

  it("is not tried where gaps are so short that digits would be lost", () => {
    const size = 300;
    const gaps = gatherGaps({
      unit: new Int32Array(size),
      time: Float64Array.from({ length: size }, (_, row) => 1000 + row / 1000),
      failed: new Uint8Array(size).fill(1),
      entry: Float64Array.of(1000),
      end: Float64Array.of(1001),
      fromNew: Uint8Array.of(1),
    });
    const ages = new VirtualAges(gaps, "I");
    ages.setDegree(1);
    expect(powerSeries(ages, gaps.failed, 1.4)).toBeNull();
  });
});
