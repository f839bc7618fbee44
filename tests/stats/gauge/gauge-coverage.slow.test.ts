import { describe, expect, it } from "vitest";
import { gaugeStudy } from "../../../src/stats/gauge/gauge-study.ts";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";

const STUDIES = 10_000;

/** By G. E. P. Box & M. E. Muller, Ann. Math. Statist. 29 (1958) 610. */
function normal(stream: Stream): number {
  return Math.sqrt(-2 * Math.log(1 - stream.uniform())) * Math.cos(2 * Math.PI * stream.uniform());
}

type Truth = { frame: number; fitter: number; interaction: number; repeat: number };

function drawnStudy(number: number, truth: Truth, { frames, fitters, repeats }: Record<string, number>) {
  const stream = streamOf(2026, number);
  const of = (size: number, sd: number) => Float64Array.from({ length: size }, () => sd * normal(stream));
  const [byFrame, byFitter] = [of(frames!, truth.frame), of(fitters!, truth.fitter)];
  const both = of(frames! * fitters!, truth.interaction);
  const cell = Int32Array.from({ length: frames! * fitters! * repeats! }, (_, row) => Math.floor(row / repeats!));
  const frame = cell.map((one) => Math.floor(one / fitters!));
  const fitter = cell.map((one) => one % fitters!);
  const noise = of(cell.length, truth.repeat);
  const reading = noise.map(
    (own, row) => 5 + byFrame[frame[row]!]! + byFitter[fitter[row]!]! + both[cell[row]!]! + own,
  );
  return gaugeStudy({ frame, fitter, reading });
}

describe("limits of a gauge study hold the truth in about 95 % of 10,000", () => {
  it.each([
    { truth: { frame: 1.2, fitter: 0.3, interaction: 0.1, repeat: 0.4 }, size: { frames: 10, fitters: 3, repeats: 3 } },
    { truth: { frame: 1.2, fitter: 0, interaction: 0, repeat: 0.4 }, size: { frames: 10, fitters: 2, repeats: 3 } },
    { truth: { frame: 0.6, fitter: 0.5, interaction: 0.3, repeat: 0.3 }, size: { frames: 6, fitters: 4, repeats: 2 } },
  ])("$truth, $size", ({ truth, size }) => {
    const variance = truth.fitter ** 2 + truth.interaction ** 2 + truth.repeat ** 2;
    const sds = { repeatability: truth.repeat, gauge: Math.sqrt(variance), frame: truth.frame };
    const held = { repeatability: 0, gauge: 0, frame: 0 };
    for (let number = 0; number < STUDIES; number++) {
      const { components } = drawnStudy(number, truth, size);
      for (const name of ["repeatability", "gauge", "frame"] as const) {
        const limits = components?.[name].limits;
        if (limits && limits.low <= sds[name] && sds[name] <= limits.high) held[name]++;
      }
    }
    const share = (count: number) => `${((100 * count) / STUDIES).toFixed(1)} %`;
    process.stdout.write(
      `held: repeatability ${share(held.repeatability)}, gauge ${share(held.gauge)}, frames ${share(held.frame)}\n`,
    );
    expect(Math.abs(held.repeatability / STUDIES - 0.95)).toBeLessThan(0.0075);
    expect(held.gauge / STUDIES).toBeGreaterThan(0.94);
    expect(held.frame / STUDIES).toBeGreaterThan(0.94);
  });
});
