import { describe, expect, it } from "vitest";
import { type Cleanliness, contaminationFactor } from "../../../src/stats/rating/contamination-factor.ts";
import { expectAgreement } from "../../agree.ts";

const inLine = (["-/13/10", "-/15/12", "-/17/14", "-/19/16"] as const).map((code): Cleanliness => {
  return { lubrication: "oil, filtered in line", code };
});
const offLine = (["-/13/10", "-/15/12", "-/17/14", "-/19/16", "-/21/18"] as const).map((code): Cleanliness => {
  return { lubrication: "oil, bath or filtered off line", code };
});
const greased = (
  [
    "high cleanliness",
    "normal cleanliness",
    "slight to typical contamination",
    "severe contamination",
    "very severe contamination",
  ] as const
).map((level): Cleanliness => ({ lubrication: "grease", level }));

describe("contaminationFactor", () => {
  // By hand at kappa 1, 64 mm (64^0.55 = 9.84916, cube root 4), coefficients from memory of ISO 281:2007 annex A.
  it.each([
    [inLine[1]!, 0.0432 * 9.84916 * (1 - 0.9987 / 4)],
    [offLine[2]!, 0.0133 * 9.84916 * (1 - 1.67 / 4)],
    [greased[2]!, 0.0177 * 9.84916 * (1 - 1.887 / 4)],
  ])("%o", (cleanliness, expected) => {
    expectAgreement(contaminationFactor(cleanliness, 1, 64), expected, { rel: 1e-5 });
  });

  // A maker's coarser table, by mean diameter below and from 100 mm: high cleanliness 0.6 to 0.8 and 0.8 to 0.9, normal 0.5 to 0.6 and
  // 0.6 to 0.8. It leaves the film out of account; at a full one the factor may pass its range by 0.1.
  it.each([
    [greased[0]!, 50, 0.6, 0.8],
    [greased[0]!, 200, 0.8, 0.9],
    [greased[1]!, 50, 0.5, 0.6],
    [greased[1]!, 200, 0.6, 0.8],
  ])("is near a maker's table at a full film: %o at %d mm, %d to %d", (cleanliness, diameter, low, high) => {
    const found = contaminationFactor(cleanliness, 4, diameter);
    expect(found).toBeGreaterThanOrEqual(low - 0.1);
    expect(found).toBeLessThanOrEqual(high + 0.1);
  });

  it.each([
    ["in line", inLine],
    ["off line", offLine],
    ["grease", greased],
  ] as const)("falls with dirt: %s", (_, all) => {
    for (const ratio of [0.1, 0.5, 1, 4]) {
      for (const diameter of [25, 60, 150, 600]) {
        const found = all.map((cleanliness) => contaminationFactor(cleanliness, ratio, diameter));
        expect(found).toEqual([...found].sort((a, b) => b - a));
        expect(found.every((factor) => factor >= 0 && factor <= 1)).toBe(true);
      }
    }
  });

  it("has a size term of its own for large greased bearings, and none below 0 for tiny ones", () => {
    // By hand at kappa 4 and 1000 mm: the film term is full, 1 - 1.677 / 10.
    expectAgreement(contaminationFactor(greased[2]!, 4, 1000), 0.8323, { rel: 1e-12 });
    expect(contaminationFactor(offLine[4]!, 4, 8)).toBe(0);
    expect(contaminationFactor(inLine[0]!, 40, 60)).toBe(contaminationFactor(inLine[0]!, 4, 60));
  });

  it("refuses a viscosity ratio below 0 and no diameter", () => {
    expect(() => contaminationFactor(inLine[0]!, -1, 60)).toThrow("the viscosity ratio must be 0 or more, found -1");
    expect(() => contaminationFactor(inLine[0]!, 1, 0)).toThrow("the pitch diameter must be above 0");
  });
});
