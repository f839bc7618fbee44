import { describe, expect, it } from "vitest";
import { strayReading } from "../../../src/stats/gauge/stray-reading.ts";
import { expectAgreement } from "../../agree.ts";

const frame = Int32Array.from({ length: 12 }, (_, row) => Math.floor(row / 6));
const fitter = Int32Array.from({ length: 12 }, (_, row) => Math.floor(row / 3) % 2);
const of = (...reading: number[]) => ({ frame, fitter, reading: Float64Array.from(reading) });
const SOUND = [4.1, 4.2, 4.0, 4.3, 4.2, 4.4, 5.0, 5.2, 5.1, 5.3, 5.2];

describe("strayReading()", () => {
  it("finds the reading that is far from its frame and fitter", () => {
    const found = strayReading(of(...SOUND, 9.1), 0.001)!;
    expect(found.row).toBe(11);
    // R 4.2.2: rstudent(lm(y ~ factor(frame):factor(fitter)))[12]
    expectAgreement(found.distance, 32.6217640108, { rel: 1e-9 });
  });

  it("finds none where readings differ as they do, and where nothing else differs", () => {
    expect(strayReading(of(...SOUND, 5.4), 0.001)).toBeNull();
    expect(strayReading(of(4, 4, 4, 4, 4, 4, 5, 5, 5, 5, 5, 5), 0.001)).toBeNull();
    expect(strayReading(of(4, 4, 4, 4, 4, 4, 5, 5, 5, 5, 5, 9), 0.001)).toBeNull();
  });

  it("is no other in another unit, and names a side", () => {
    const mm = strayReading(of(...[...SOUND, 1.1].map((value) => value * 0.0254)), 0.001)!;
    expectAgreement(mm.distance, strayReading(of(...SOUND, 1.1), 0.001)!.distance, { rel: 1e-9 });
    expect(mm.distance).toBeLessThan(0);
  });
});
