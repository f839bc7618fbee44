import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { describe, expect, it } from "vitest";
import { exponentialOf, logExponentialOf, normalOf } from "../../../src/stats/spares/quantile-table.ts";
import { quickExp } from "../../../src/stats/spares/quick-exp.ts";
import { nextWords, startWords } from "../../../src/stats/spares/words.ts";
import { expectAgreement } from "../../agree.ts";

function drawn(seed: number, draw: number, unit: number, count: number): Int32Array {
  const [state, words] = [new Int32Array(4), new Int32Array(count)];
  startWords(state, seed, draw, unit);
  nextWords(state, words, count);
  return words;
}

describe("quantile tables", () => {
  const words = [
    ...drawn(1, 0, 0, 12_000),
    0,
    1,
    -1,
    -2,
    2 ** 31 - 1,
    -(2 ** 31),
    (16 << 22) - 1,
    16 << 22,
    (1008 << 22) | 0,
    ((1008 << 22) - 1) | 0,
  ];

  it("agree with the formulas for any word", () => {
    for (const word of words) {
      const share = ((word >>> 0) + 0.5) / 2 ** 32;
      const exact = -Math.log1p(-share);
      expectAgreement(exponentialOf(word), exact, { rel: 1e-6 }, `word ${word}`);
      expectAgreement(logExponentialOf(word), Math.log(exact), { abs: 1e-6 }, `word ${word}`);
      expectAgreement(normalOf(word), normalQuantile(share, 0, 1), { abs: 1e-6 }, `word ${word}`);
    }
  });
});

describe("quickExp", () => {
  it("agrees with exp", () => {
    for (const word of drawn(2, 0, 0, 6000)) {
      const x = word / 2 ** 22;
      expectAgreement(quickExp(x), Math.exp(x), { rel: 2e-11 }, `exp(${x})`);
    }
    expect([quickExp(0), quickExp(-1e9), quickExp(1e9), quickExp(Number.NEGATIVE_INFINITY)]).toEqual([
      1,
      0,
      Infinity,
      0,
    ]);
    for (const x of [-700, -699.99, 699.99, 700, 705]) expectAgreement(quickExp(x), Math.exp(x), { rel: 2e-11 });
  });
});

describe("words", () => {
  it("are uniform in every bit, from the first one on, over neighbouring seeds, draws and units", () => {
    // 20,000 starts: standard error of a share of ones 0.0035
    for (const start of [
      (at: number) => drawn(at, 0, 0, 2),
      (at: number) => drawn(1, at, 0, 2),
      (at: number) => drawn(1, 5, at, 2),
    ]) {
      const pairs = Array.from({ length: 20_000 }, (_, at) => start(at));
      for (let bit = 0; bit < 32; bit++) {
        const share = (of: (pair: Int32Array, at: number) => number) =>
          pairs.reduce((sum, pair, at) => sum + ((of(pair, at) >>> bit) & 1), 0) / 20_000;
        expectAgreement(
          share((pair) => pair[0]!),
          0.5,
          { abs: 0.017 },
        );
        expectAgreement(
          share((pair) => pair[0]! ^ pair[1]!),
          0.5,
          { abs: 0.017 },
        );
        expectAgreement(
          share((pair, at) => pair[0]! ^ pairs[(at + 1) % 20_000]![0]!),
          0.5,
          { abs: 0.017 },
        );
      }
    }
  });

  it("go on where they stopped", () => {
    const [state, words] = [new Int32Array(4), new Int32Array(10)];
    startWords(state, 7, 8, 9);
    nextWords(state, words, 4);
    const rest = new Int32Array(6);
    nextWords(state, rest, 6);
    expect([...words.subarray(0, 4), ...rest]).toEqual([...drawn(7, 8, 9, 10)]);
  });
});
