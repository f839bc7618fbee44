import { describe, expect, it } from "vitest";
import { degreeOfRepair, type FittedRepair } from "../../../src/stats/repair/degree-of-repair.ts";
import type { RepairModel } from "../../../src/stats/repair/virtual-ages.ts";
import { drawnUnits } from "./drawn-units.ts";
import { historiesOf } from "./repair-data.ts";

const SEED = 20261126;
const SETS = 300;
const TRUTH = { units: 30, shape: 2.2, scale: 4000 };

function fits(degree: number, model: RepairModel): FittedRepair[] {
  return Array.from({ length: SETS }, (_, set) => {
    const found = degreeOfRepair(historiesOf(drawnUnits({ seed: SEED, set, degree, model, ...TRUTH })), {
      model,
      level: 0.95,
    });
    if (!found.converged) throw new Error(found.reason);
    return found;
  });
}

function share(found: FittedRepair[], holds: (fit: FittedRepair) => boolean): number {
  return (100 * found.filter(holds).length) / found.length;
}

// The truth is that of the published case. Of 300 sets at 95 % the standard error is 1.26 %; the bounds are 2.8 of them away, fixed beforehand.
describe("95 % intervals of 30 units hold the degree of repair, shape and scale drawn from", () => {
  it.each(["I", "II"] as const)("in 91.5 to 98.5 per cent of 300 sets (model %s)", (model) => {
    const found = fits(0.4, model);
    const held = {
      q: share(found, ({ q }) => q.low <= 0.4 && 0.4 <= q.high),
      shape: share(found, ({ shape }) => shape.low! <= TRUTH.shape && TRUTH.shape <= shape.high!),
      scale: share(found, ({ scale }) => scale.low! <= TRUTH.scale && TRUTH.scale <= scale.high!),
    };
    for (const [what, hits] of Object.entries(held)) {
      expect(hits, `${what} of ${JSON.stringify(held)}`).toBeGreaterThanOrEqual(91.5);
      expect(hits, `${what} of ${JSON.stringify(held)}`).toBeLessThanOrEqual(98.5);
    }
  });
});

describe("tests at 5 % reject the degree drawn from", () => {
  it.each([
    { degree: 0, of: "new" },
    { degree: 1, of: "before" },
  ] as const)("in 1.5 to 8.5 per cent of 300 sets at degree $degree", ({ degree, of }) => {
    const found = fits(degree, "I");
    const rejected = share(found, ({ tests }) => tests[of].p <= 0.05);
    expect(rejected).toBeGreaterThanOrEqual(1.5);
    expect(rejected).toBeLessThanOrEqual(8.5);
    // At a bound about half of the sets have their top there.
    const atBound = share(found, ({ q }) => q.atBoundary === of);
    expect(atBound).toBeGreaterThan(40);
    expect(atBound).toBeLessThan(60);
  });
});
