import { describe, expect, it } from "vitest";
import { gaugeOrder } from "../../../src/stats/gauge/gauge-order.ts";

const design = { frames: 5, fitters: 3, repeats: 4, seed: 11 };

describe("gaugeOrder", () => {
  it("has every fitter measure every frame once a round", () => {
    const { round, frame, fitter } = gaugeOrder(design);
    for (let one = 0; one < 4; one++) {
      const pairs = Array.from(round.keys()).filter((row) => round[row] === one);
      expect(new Set(pairs.map((row) => `${frame[row]} ${fitter[row]}`)).size).toBe(15);
    }
    expect(round).toEqual(round.toSorted());
  });

  it("is the same for the same seed, and another for another or another round", () => {
    expect(gaugeOrder(design)).toEqual(gaugeOrder(design));
    expect(gaugeOrder({ ...design, seed: 12 }).frame).not.toEqual(gaugeOrder(design).frame);
    const { frame } = gaugeOrder(design);
    expect(frame.slice(0, 15)).not.toEqual(frame.slice(15, 30));
  });

  it("lets each pair come first as often", () => {
    const firsts = new Int32Array(6);
    for (let seed = 0; seed < 6000; seed++) {
      const { frame, fitter } = gaugeOrder({ frames: 3, fitters: 2, repeats: 2, seed });
      firsts[frame[0]! * 2 + fitter[0]!]!++;
    }
    // R: qchisq(0.999, 5) = 20.515
    expect(firsts.reduce((sum, times) => sum + (times - 1000) ** 2 / 1000, 0)).toBeLessThan(20.515);
  });

  it.each([{ frames: 1 }, { fitters: 1 }, { repeats: 1 }, { frames: 2.5 }, { frames: 1e9 }, { seed: 0.5 }])(
    "refuses %o",
    (wrong) => {
      expect(() => gaugeOrder({ ...design, ...wrong })).toThrow("Cannot order a gauge study: found");
    },
  );
});
