import { describe, expect, it } from "vitest";
import { familyOf } from "../../../src/stats/distribution/families.ts";
import { redrawer } from "../../../src/stats/fit/redraw.ts";
import { redrawPlan } from "../../../src/stats/fit/redraw-plan.ts";
import { seriesSurface } from "../../../src/stats/fit/series-surface.ts";
import type { Surface } from "../../../src/stats/fit/surface.ts";
import { termsSurface } from "../../../src/stats/fit/terms-surface.ts";
import { weibullRedrawer } from "../../../src/stats/fit/weibull-redraw.ts";
import { weibullSurface } from "../../../src/stats/fit/weibull-surface.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";

const all = Float64Array.of(120, 300, 340, 500, 800, 950, 950, 1400);
const failed = Uint8Array.of(1, 0, 1, 1, 0, 1, 0, 1);

describe("weibullRedrawer", () => {
  it.each([
    { what: "complete lives", lives: { time: all, failed: new Uint8Array(8).fill(1) } },
    { what: "lives of which some were removed", lives: { time: all, failed } },
    {
      what: "lives that came under observation late",
      lives: { time: all, failed, entry: Float64Array.of(0, 100, 0, 250, 0, 900, 0, 40) },
    },
  ])("draws $what as the general way does, to the same likelihood", ({ lives }) => {
    const plan = redrawPlan(lives);
    if ("reason" in plan) throw new Error(plan.reason);
    const at = { a: Math.log(700), e: Math.log(1.7) };
    const general = redrawer(plan, familyOf("weibull"), at);
    const short = weibullRedrawer(plan, at, Math.log(500));
    for (let number = 0; number < 50; number++) {
      const one = termsSurface(general(streamOf(7, number)), familyOf("weibull"));
      const drawn = short(streamOf(7, number));
      const other = weibullSurface(drawn.gathered());
      expect(other.failures).toBe(one.failures);
      if (one.failures === 0) continue;
      expectAlike(other, one);
      const beyond = () => {
        throw new Error("no pass over the lives is needed");
      };
      expectAlike(seriesSurface(drawn, beyond), one);
      const sums = { zero: 0, one: 0, two: 0 };
      expect(drawn.sumsAt(0, 1e9, sums)).toBe(false);
    }
  });
});

function expectAlike(found: Surface, expected: Surface): void {
  expectAgreement(found.spread, expected.spread, { rel: 1e-11, abs: 1e-12 });
  for (const shape of [0.6, 1, 3]) {
    const [a, e] = [Math.log(650), Math.log(shape)];
    for (const part of ["value", "a", "e", "aa", "ae", "ee"] as const) {
      expectAgreement(found.at(a, e)[part], expected.at(a, e)[part], { rel: 1e-10, abs: 1e-10 }, part);
    }
  }
}
