import { beforeAll, describe, expect, it } from "vitest";
import { type Replayed, scoredSeries } from "../../src/questions/spares-backtest-scores.ts";
import { type Kind, replayedFleets } from "./simulated-use.ts";

/** Frames bought within a year, three years ago: no slot has run for its mean life of 17,700 and 21,300 h. Seals stay in unless they failed. */
const YOUNG: Kind = {
  units: 30,
  years: 3,
  boughtWithinDays: 365,
  slots: { bearings: { shape: 2.5, scale: 20_000 }, seals: { shape: 2, scale: 24_000, kit: false } },
};

/** Failures that do not rise with age, five years of them. */
const CONSTANT: Kind = {
  units: 30,
  years: 5,
  boughtWithinDays: 365,
  slots: { bearings: { shape: 1, scale: 16_000 }, seals: { shape: 1, scale: 24_000, kit: false } },
};

/** Frames as a shop sees them: spare ones on the shelf, days in the shop, planned rebuilds, frames that differ, a sleeve that is renewed now and then. */
const SHOP: Kind = {
  units: 40,
  positions: 33,
  years: 6,
  boughtWithinDays: 1500,
  slots: {
    bearings: { shape: 1.7, scale: 15_000 },
    seals: { shape: 1.4, scale: 18_000 },
    sleeve: { shape: 2.2, scale: 30_000, kit: false, renewed: 0.35 },
  },
  unitSd: 0.15,
  daysInShop: [3, 20],
  daysToInstall: [1, 6],
  plannedAfterHours: { mean: 9500, sd: 2500 },
};

const FLEETS = 250;
const DRAWS = 500;
// Seeds fixed before the first run.
const KINDS = [
  { name: "young, wearing out", kind: YOUNG, seed: 20_261_126, parts: [0, 1], rivals: 1 },
  { name: "of constant rates", kind: CONSTANT, seed: 20_261_127, parts: [0, 1], rivals: 1.05 },
  { name: "of a shop", kind: SHOP, seed: 20_261_128, parts: [0, 2], rivals: 1 },
];

/** Two standard errors of a share over so many fleets: what the simulation itself is off by. */
const error = (share: number) => 2 * Math.sqrt((share * (1 - share)) / FLEETS);

describe.each(KINDS)("forecasts of a year's use of $name fleets", ({ kind, seed, parts, rivals, name }) => {
  let scores: ReturnType<typeof scoredSeries>[];

  beforeAll(async () => {
    const fleets = await replayedFleets(kind, { seed, fleets: FLEETS, draws: DRAWS });
    const series = parts.map((part) => fleets.map((fleet): Replayed => fleet[part]!));
    scores = series.map((one, at) => scoredSeries(one, seed + 1000 * at));
    for (const [at, { used, lives, rivals: plain }] of scores.entries()) {
      const coverage = lives.coverage.map(
        ({ level, randomised, plain: held }) => `${level}: ${randomised.estimate} (plain ${held.estimate})`,
      );
      process.stdout.write(
        `${name}, ${Object.keys(kind.slots)[parts[at]!]}: ${used / FLEETS} used, ratio ${lives.ratio?.toFixed(3)}, ${coverage.join(", ")}, loss ${lives.loss.toFixed(4)}, ${plain.map((rival) => `${rival.name} ${rival.loss.toFixed(4)}`).join(", ")}\n`,
      );
    }
  }, 600_000);

  it.each([
    { level: 0.8, at: 0, low: 0.75, high: 0.85 },
    { level: 0.95, at: 1, low: 0.92, high: 0.98 },
  ])("lie in the central $level at $low to $high, by randomised transforms", ({ at, low, high }) => {
    const held = scores.map(({ lives }) => lives.coverage[at]!.randomised.estimate!);
    const share = held.reduce((sum, one) => sum + one, 0) / held.length;
    expect(share, held.join(", ")).toBeGreaterThanOrEqual(low);
    expect(share, held.join(", ")).toBeLessThanOrEqual(high);
  });

  it("are held by whole pieces no less often than the range says", () => {
    for (const { lives } of scores) {
      for (const { level, plain } of lives.coverage)
        expect(plain.estimate).toBeGreaterThanOrEqual(level - error(level));
    }
  });

  it("are neither too high nor too low by more than a tenth", () => {
    for (const { lives } of scores) expect(Math.abs(lives.ratio! - 1)).toBeLessThanOrEqual(0.1);
  });

  it("lose less than forecasts from past use alone, or hardly more where past use says all", () => {
    for (const { lives, rivals: plain } of scores) {
      for (const { name: rival, loss } of plain) expect(lives.loss, rival).toBeLessThan(rivals * loss);
    }
  });
});
