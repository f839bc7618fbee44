import { describe, expect, it } from "vitest";
import { fitPowerLaw } from "../../../src/stats/recurrence/power-law.ts";
import { powerLawScale } from "../../../src/stats/recurrence/power-law-scale.ts";

// The ten repairs of the NIST/SEMATECH e-Handbook, 8.2.2.3, watched to 1500 h.
const ages = Float64Array.of(5, 40, 43, 175, 389, 712, 747, 795, 1299, 1478);

function fitted(factor: number) {
  const fit = fitPowerLaw(
    {
      unit: new Int32Array(10),
      time: ages.map((age) => age * factor),
      entry: Float64Array.of(0),
      end: Float64Array.of(1500 * factor),
    },
    { level: 0.95 },
  );
  if (!fit.converged) throw new Error(fit.reason);
  return fit;
}

describe("powerLawScale", () => {
  it("has the variance that the formulas for one unit give", () => {
    const fit = fitted(1);
    const { estimate, low, high } = powerLawScale(fit, 0.95);
    // By hand: log eta = log T - log N / beta, and for one unit watched to a time N and beta are independent, var(log N) = var(log beta) = 1 / N
    const byHand = Math.sqrt((Math.log(10) / fit.beta) ** 2 / 10 + 1 / (fit.beta ** 2 * 10));
    expect(estimate).toBeCloseTo(20.6389303235, 8); // NIST/SEMATECH e-Handbook data, eta of the published case 05
    expect(Math.log(high! / low!) / (2 * 1.959963984540054)).toBeCloseTo(byHand, 8);
  });

  it("is the same in any unit of time", () => {
    const [plain, tiny] = [powerLawScale(fitted(1), 0.9), powerLawScale(fitted(1e-9), 0.9)];
    for (const end of ["estimate", "low", "high"] as const) expect(tiny[end]! / plain[end]! / 1e-9).toBeCloseTo(1, 8);
  });
});
