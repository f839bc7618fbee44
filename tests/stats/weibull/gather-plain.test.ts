import { describe, expect, it } from "vitest";
import type { Lives } from "../../../src/stats/lives.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { type ConvergedWeibull, fitGathered } from "../../../src/stats/weibull/fit.ts";
import { gatherLives } from "../../../src/stats/weibull/gather-lives.ts";
import { gatherPlain } from "../../../src/stats/weibull/gather-plain.ts";
import type { GatheredLives } from "../../../src/stats/weibull/gathered-lives.ts";
import { expectAgreement } from "../../agree.ts";

/** Weibull lives of shape 1.8 and scale 9000 removed by one of scale 5625: 3 in 10 fail. */
function drawn(size: number, seed: number): Lives {
  const stream = streamOf(seed, 0);
  const weibull = (scale: number) => scale * (-Math.log1p(-stream.uniform())) ** (1 / 1.8);
  const lives = { time: new Float64Array(size), failed: new Uint8Array(size) };
  for (let life = 0; life < size; life++) {
    const [end, removal] = [weibull(9000), weibull(5625)];
    lives.time[life] = Math.min(end, removal);
    lives.failed[life] = end <= removal ? 1 : 0;
  }
  return lives;
}

function plain(lives: Lives): GatheredLives {
  const gathered = gatherPlain(lives);
  if (gathered === null) throw new Error("not gathered the plain way");
  return gathered;
}

/** Counts of 1, which say nothing, are what the plain way does not take. */
function general({ time, failed }: Lives): GatheredLives {
  const gathered = gatherLives({ time, failed, count: new Float64Array(time.length).fill(1) });
  if ("refused" in gathered) throw new Error(gathered.refused);
  return gathered;
}

function fitOf(gathered: GatheredLives, near?: { scale: number; shape: number }): ConvergedWeibull {
  const fit = fitGathered(gathered, near);
  if (!fit.converged) throw new Error(fit.reason);
  return fit;
}

function expectSameFit(found: ConvergedWeibull, expected: ConvergedWeibull): void {
  for (const figure of ["shape", "scale", "logLikelihood"] as const) {
    expectAgreement(found[figure], expected[figure], { rel: 1e-11 }, figure);
  }
  for (const [row, column] of [
    [0, 0],
    [0, 1],
    [1, 1],
  ] as const) {
    expectAgreement(found.covariance[row][column], expected.covariance[row][column], { rel: 1e-10 });
  }
}

describe("gatherPlain", () => {
  const untied = drawn(300, 3);
  const whole = { ...untied, time: untied.time.map((age) => Math.ceil(age / 100)) };

  it.each([
    { what: "untied ages", lives: untied },
    { what: "whole ages", lives: whole },
  ])("gathers $what to what the general way gives", ({ lives }) => {
    const [found, expected] = [plain(lives), general(lives)];
    for (const figure of ["typicalLog", "spread", "failures", "exact"] as const) {
      expectAgreement(found[figure], expected[figure], { rel: 1e-13 }, figure);
    }
    expectAgreement(found.exactSum, expected.exactSum, { abs: 1e-9 });
    expectSameFit(fitOf(found), fitOf(expected));
  });

  const { time, failed } = whole;
  const withFirst = (age: number) => Float64Array.from(time, (own, life) => (life === 0 ? age : own));

  it.each([
    { what: "late entries", lives: { ...whole, entry: new Float64Array(300) } },
    { what: "counts", lives: { ...whole, count: new Float64Array(300).fill(2) } },
    { what: "whole tenths, which are worth adding up", lives: { time: time.map((age) => age / 10), failed } },
    { what: "an age of 0 among whole ones", lives: { time: withFirst(0), failed } },
    {
      what: "an age of 0 among others",
      lives: { time: untied.time.map((age, life) => (life === 0 ? 0 : age)), failed },
    },
    { what: "an age below 0", lives: { time: withFirst(-0.3), failed } },
    { what: "an age that is no number", lives: { time: withFirst(Number.NaN), failed } },
    { what: "an age without end", lives: { time: withFirst(Number.POSITIVE_INFINITY), failed } },
    { what: "flags above 1", lives: { time: untied.time, failed: failed.map((flag) => 2 * flag) } },
    { what: "flags of another length", lives: { time: untied.time, failed: new Uint8Array(299) } },
    { what: "no failure", lives: { time: untied.time, failed: new Uint8Array(300) } },
    { what: "a single failure", lives: { time: untied.time, failed: new Uint8Array(300).fill(1, 0, 1) } },
    { what: "failures at one age", lives: { time: new Float64Array(300).fill(Math.PI), failed } },
    { what: "failures at one whole age", lives: { time: new Float64Array(300).fill(3), failed } },
    { what: "no lives", lives: { time: new Float64Array(0), failed: new Uint8Array(0) } },
  ])("leaves $what to the general way", ({ lives }) => {
    expect(gatherPlain(lives)).toBeNull();
  });
});

describe("a fit of very many untied lives", () => {
  it.each([
    { what: "from the start", entry: undefined },
    { what: "some of which entered late", entry: 500 },
  ])("by a sample and a series is that by passes over all terms: lives $what", ({ entry }) => {
    const lives = drawn(110_000, 5);
    const entered = lives.time.map((age, life) => (entry !== undefined && life % 3 === 0 && age > entry ? entry : 0));
    const gathered = entry === undefined ? plain(lives) : gatherLives({ ...lives, entry: entered });
    if ("refused" in gathered) throw new Error(gathered.refused);
    expectSameFit(fitOf(gathered), fitOf(gathered, { scale: 7000, shape: 1.5 }));
  });
});
