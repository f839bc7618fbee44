import chiSquareQuantile from "@stdlib/stats-base-dists-chisquare-quantile";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Quantity } from "../../../src/stats/fit/quantity.ts";
import type { Lives } from "../../../src/stats/lives.ts";
import { gatherLives } from "../../../src/stats/weibull/gather-lives.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { converged } from "./converged.ts";
import { lineLimits, profileInterval, waldInterval } from "./weibull-intervals.ts";

const fans = new PublishedCase("03_genfan");
const lives: Lives = { time: fans.numbers("hours"), failed: fans.flags("status") };
const fit = converged(lives);
const delayed = new PublishedCase("08b_delayed_entry");
const lateLives: Lives = {
  time: delayed.numbers("exit_hours"),
  failed: delayed.flags("failed"),
  entry: delayed.numbers("entry_hours"),
};

const bearings = new PublishedCase("01_ball_bearings");
const bearingLives: Lives = { time: bearings.numbers("revolutions_million"), failed: bearings.flags("failed") };

// R 4.2.2: optimize() of the log-likelihood over log shape from log 0.05 to log 20 at the held value (tol 1e-12), ends by uniroot() (tol 1e-13).
const profiles: { data: string; of: Lives; quantity: Quantity; low: number; high: number }[] = [
  { data: "fans", of: lives, quantity: { kind: "mean" }, low: 12336.9132579, high: 147886.045505 },
  { data: "fans", of: lives, quantity: { kind: "survival", time: 4000 }, low: 0.78932300127, high: 0.932118834522 },
  { data: "fans", of: lives, quantity: { kind: "survival", time: 8000 }, low: 0.614145139354, high: 0.861429079597 },
  { data: "late entry", of: lateLives, quantity: { kind: "mean" }, low: 12989.7618132, high: 16818.4829542 },
  {
    data: "late entry",
    of: lateLives,
    quantity: { kind: "survival", time: 8760 },
    low: 0.640892386937,
    high: 0.80995504451,
  },
  {
    data: "late entry",
    of: lateLives,
    quantity: { kind: "survival", time: 25000 },
    low: 0.0684075214463,
    high: 0.195899847944,
  },
  {
    data: "late entry",
    of: lateLives,
    quantity: { kind: "quantile", p: 0.1 },
    low: 3373.30462637,
    high: 6355.82813834,
  },
  { data: "bearings", of: bearingLives, quantity: { kind: "mean" }, low: 58.4452180455, high: 89.3416242181 },
  {
    data: "bearings",
    of: bearingLives,
    quantity: { kind: "survival", time: 50 },
    low: 0.535027857978,
    high: 0.833945737309,
  },
  {
    data: "bearings",
    of: bearingLives,
    quantity: { kind: "survival", time: 100 },
    low: 0.107258552309,
    high: 0.374675244797,
  },
];

describe("profileInterval", () => {
  it.each(profiles)("$data, $quantity: as by optimize() and uniroot() of R", ({ of, quantity, low, high }) => {
    const found = profileInterval(of, converged(of), quantity, 0.95);
    expectAgreement(found.low, low, { rel: 1e-7 });
    expectAgreement(found.high, high, { rel: 1e-7 });
  });

  it("takes a cut-off in place of the chi-square one", () => {
    const quantity: Quantity = { kind: "quantile", p: 0.1 };
    const given = profileInterval(lives, fit, quantity, 0.9, chiSquareQuantile(0.95, 1));
    expect(given).toEqual(profileInterval(lives, fit, quantity, 0.95));
    expect(() => profileInterval(lives, fit, quantity, 0.9, 0)).toThrow("above 0, found 0");
  });

  it("takes gathered lives for lives", () => {
    const gathered = gatherLives(lives);
    if ("refused" in gathered) throw new Error(gathered.refused);
    expect(profileInterval(gathered, fit, { kind: "mean" }, 0.95)).toEqual(
      profileInterval(lives, fit, { kind: "mean" }, 0.95),
    );
  });

  it("has no lower limit of the shape where one look at each unit hardly tells its age at failure", () => {
    // As the shape falls to 0 both ages share one fraction failed, 8 of 20: twice the log-likelihood ratio comes to
    // 2 [3 ln .3 + 7 ln .7 + 10 ln .5 - 8 ln .4 - 12 ln .6] = 0.840, below the cut-off of 3.841.
    const looks = {
      low: Float64Array.of(0, 10, 0, 30),
      high: Float64Array.of(10, Number.POSITIVE_INFINITY, 30, Number.POSITIVE_INFINITY),
      count: Float64Array.of(3, 7, 5, 5),
    };
    const looked = converged(looks);
    const shape = profileInterval(looks, looked, { kind: "shape" }, 0.95);
    expect(shape.low).toBeNull();
    expect(shape.high).toBeGreaterThan(looked.shape);
    expect(shape.reason).toBe(
      "no lower limit: the likelihood stays within the cut-off as far out as the value can be taken",
    );
    expect(profileInterval(looks, looked, { kind: "shape" }, 0.95, 0.83).low).toBeGreaterThan(0);
    expect(profileInterval(looks, looked, { kind: "shape" }, 0.95, 0.85).low).toBeNull();
    expect(profileInterval(looks, looked, { kind: "quantile", p: 0.9 }, 0.95).high).toBeNull();
  });

  it("scales with the unit of the ages from 1e-6 to 1e9, and leaves shape and survival", () => {
    for (const unit of [1e-6, 1e9]) {
      const scaled = { ...lives, time: lives.time.map((age) => age * unit) };
      const scaledFit = converged(scaled);
      const pairs: [Quantity, Quantity, number][] = [
        [{ kind: "shape" }, { kind: "shape" }, 1],
        [{ kind: "mean" }, { kind: "mean" }, unit],
        [{ kind: "quantile", p: 0.01 }, { kind: "quantile", p: 0.01 }, unit],
        [{ kind: "survival", time: 4000 }, { kind: "survival", time: 4000 * unit }, 1],
      ];
      for (const [plain, other, factor] of pairs) {
        const before = profileInterval(lives, fit, plain, 0.95);
        const after = profileInterval(scaled, scaledFit, other, 0.95);
        expectAgreement(after.low, before.low! * factor, { rel: 1e-8 });
        expectAgreement(after.high, before.high! * factor, { rel: 1e-8 });
      }
    }
  });

  it("refuses a level, a fraction or an age that can't be", () => {
    expect(() => profileInterval(lives, fit, { kind: "shape" }, 95)).toThrow("found 95");
    expect(() => profileInterval(lives, fit, { kind: "quantile", p: 0 }, 0.95)).toThrow("p must be in (0, 1), found 0");
    expect(() => waldInterval(fit, { kind: "survival", time: 0 }, 0.95)).toThrow("the age must be above 0, found 0");
    expect(() =>
      profileInterval({ time: Float64Array.of(1), failed: Uint8Array.of(0) }, fit, { kind: "shape" }, 0.95),
    ).toThrow("there are no failures");
  });
});

/** Twice the log-likelihood ratio with the quantile held at a value, from the definition: best shape by golden section. */
function ratioAt({ time, failed }: Lives, most: number, p: number, value: number): number {
  const logValue = Math.log(value);
  const w = Math.log(-Math.log1p(-p));
  const likelihood = (logShape: number) => {
    const shape = Math.exp(logShape);
    return time.reduce((sum, age, life) => {
      const logHazard = w + shape * (Math.log(age) - logValue);
      return sum - Math.exp(logHazard) + (failed[life] === 1 ? logShape + logHazard - Math.log(age) : 0);
    }, 0);
  };
  let [from, to] = [Math.log(1e-4), Math.log(1e4)];
  const golden = (Math.sqrt(5) - 1) / 2;
  while (to - from > 1e-9) {
    const [left, right] = [to - golden * (to - from), from + golden * (to - from)];
    if (likelihood(left) >= likelihood(right)) to = right;
    else from = left;
  }
  return 2 * (most - likelihood((from + to) / 2));
}

describe("profileInterval, checked by its definition", () => {
  const few = fc
    .record({
      failures: fc.uniqueArray(fc.double({ min: 1, max: 1000, noNaN: true }), { minLength: 2, maxLength: 5 }),
      running: fc.array(fc.double({ min: 1, max: 2000, noNaN: true }), { maxLength: 20 }),
    })
    .filter(({ failures }) => Math.max(...failures) / Math.min(...failures) > 1.05)
    .map(({ failures, running }) => ({
      time: Float64Array.from([...failures, ...running]),
      failed: Uint8Array.from([...failures.fill(1), ...running.fill(0)]),
    }));
  it.each([0.001, 0.1, 0.5, 0.99])(
    "has ends at which the ratio meets the cut-off, with few failures too (p = %d)",
    (p) => {
      let ends = 0;
      fc.assert(
        fc.property(few, fc.constantFrom(0.5, 0.95, 0.999), (scattered, level) => {
          const found = converged(scattered);
          const interval = profileInterval(scattered, found, { kind: "quantile", p }, level);
          for (const end of [interval.low, interval.high]) {
            if (end === null) continue;
            ends++;
            expectAgreement(ratioAt(scattered, found.logLikelihood, p, end), chiSquareQuantile(level, 1), {
              rel: 1e-5,
            });
          }
        }),
        { seed: 11, numRuns: 150 },
      );
      expect(ends).toBeGreaterThan(250);
    },
  );
});

describe("lineLimits", () => {
  it("are one less the limits of survival: fans at 4000 h and 8000 h (R, delta method on log(-log R))", () => {
    for (const point of lineLimits(fit, Float64Array.of(4000, 8000), 0.95)) {
      const { value, tolerance } = fans.value(`weibull.R_at_${point.time}`);
      const low = fans.value(`weibull.R_at_${point.time}_ci95_lo`);
      const high = fans.value(`weibull.R_at_${point.time}_ci95_hi`);
      expectAgreement(point.fractionFailed, 1 - value, tolerance);
      expectAgreement(point.low, 1 - high.value, high.tolerance);
      expectAgreement(point.high, 1 - low.value, low.tolerance);
    }
  });
});
