import { describe, expect, it } from "vitest";
import { familyOf } from "../../../src/stats/distribution/families.ts";
import type { LogTerms } from "../../../src/stats/fit/log-terms.ts";
import { redrawer } from "../../../src/stats/fit/redraw.ts";
import { redrawPlan } from "../../../src/stats/fit/redraw-plan.ts";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";
import { FAMILIES, marked } from "./fitted.ts";

const SEED = 41;
const EXPONENTIAL = familyOf("exponential");
/** The log of a scale so long that nothing fails, or so short that all does at once. */
const NEVER = Math.log(1e12);
const AT_ONCE = Math.log(1e-9);

function drawsOf(lives: Lives | IntervalLives, a: number, draws: number, family = EXPONENTIAL, e = 0): LogTerms[] {
  const plan = redrawPlan(lives);
  if ("reason" in plan) throw new Error(plan.reason);
  const draw = redrawer(plan, family, { a, e });
  return Array.from({ length: draws }, (_, number) => draw(streamOf(SEED, number)));
}

/** Ages and how many lives at each. */
function byAge({ log, count }: LogTerms["removed"]): [number, number][] {
  return Array.from(log, (one, at) => [Number(Math.exp(one).toPrecision(12)), count[at]!]);
}

function meanCountAt(draws: LogTerms[], age: number): number {
  const counts = draws.map(({ removed }) => byAge(removed).find(([at]) => at === age)?.[1] ?? 0);
  return counts.reduce((sum, count) => sum + count, 0) / draws.length;
}

const exactAges = ({ exact }: LogTerms) => Array.from(exact.log, Math.exp);

describe("a redraw repeats how lives were watched", () => {
  it("an unfailed life keeps its follow-up, whatever was drawn for it", () => {
    const lives = marked("20+ 30+x2 55+ 60");
    for (const { removed, exact } of drawsOf(lives, NEVER, 5)) {
      expect(byAge(removed)).toEqual([
        [20, 1],
        [30, 2],
        [55, 1],
      ]);
      expect(exact.log.length).toBe(1);
    }
    for (const { removed, exact } of drawsOf(lives, AT_ONCE, 5)) {
      expect([removed.log.length, exact.log.length]).toEqual([0, 5]);
    }
  });

  it("a failed life's follow-up ends where one that lasted longer did, by the reverse Kaplan-Meier chance", () => {
    // 10 20+ 30 40+: three are at risk at 20, so the life of 10 is drawn an end of 20 by 1/3 and of 40 by 2/3; that of 30 always 40.
    const draws = drawsOf(marked("10 20+ 30 40+"), NEVER, 6000);
    // Standard error sqrt(2/9 / 6000) = 0.0061.
    expectAgreement(meanCountAt(draws, 20), 1 + 1 / 3, { abs: 0.022 });
    expectAgreement(meanCountAt(draws, 40), 2 + 2 / 3, { abs: 0.022 });
  });

  it("failures precede removals at one age: a life that failed at the age of a removal may have been removed there", () => {
    // 20 20+ 40+: of the two not failed at 20 one is removed, so the failed one's end is 20 by 1/2.
    expectAgreement(meanCountAt(drawsOf(marked("20 20+ 40+"), NEVER, 6000), 20), 1.5, { abs: 0.022 });
  });

  it("a life that outlasted all removals by failing has no end of follow-up", () => {
    for (const { removed, exact } of drawsOf(marked("10+ 50"), NEVER, 20)) {
      expect([byAge(removed), exact.log.length]).toEqual([[[10, 1]], 1]);
    }
  });

  it("under late entry an age that none at risk went past does not end the follow-up of those that came later", () => {
    // At 5 the only life at risk is removed. The life of 10 came at 6, and could be followed to 20 like the other.
    const lives = { ...marked("5+ 10 20+"), entry: Float64Array.of(0, 6, 6) };
    for (const { removed, exact } of drawsOf(lives, NEVER, 20)) {
      expect(byAge(removed)).toEqual([
        [5, 1],
        [20, 2],
      ]);
      expect(exact.log.length).toBe(0);
    }
  });

  it("late entries stay, and lives fail after theirs, as much later as without memory of it", () => {
    const lives = { ...marked("100 150"), entry: Float64Array.of(80, 0) };
    const draws = drawsOf(lives, Math.log(30), 6000);
    for (const { entered } of draws) expect(byAge(entered)).toEqual([[80, 1]]);
    const late = draws.map((drawn) => exactAges(drawn)[0]!);
    expect(Math.min(...late)).toBeGreaterThan(80);
    // Exponential, mean 30; the standard error of the mean of 6000 is 0.39.
    expectAgreement(late.reduce((sum, age) => sum + age, 0) / late.length, 110, { abs: 1.4 });
  });

  it("all suspended at the age of the last failure: a redraw stops at its own failure of that number", () => {
    const lives = marked("10 20 30 30+x4");
    for (const { exact, removed } of drawsOf(lives, Math.log(100), 50)) {
      expect(exact.log.length).toBe(3);
      expect(Array.from(exact.log)).toEqual(Array.from(exact.log).sort((one, other) => one - other));
      expect([Array.from(removed.log), Array.from(removed.count)]).toEqual([[exact.log[2]], [4]]);
    }
    // The first of 7 exponential lives of mean 100 has mean 100 / 7, the third 100 (1/7 + 1/6 + 1/5) = 50.95.
    const draws = drawsOf(lives, Math.log(100), 6000);
    const mean = (place: number) => draws.reduce((sum, drawn) => sum + exactAges(drawn)[place]!, 0) / draws.length;
    expectAgreement(mean(0), 100 / 7, { abs: 0.7 });
    expectAgreement(mean(2), 50.952, { abs: 1.4 });
  });

  it.each([
    ["one suspended before the last failure", marked("10 20 30 29+ 30+")],
    ["one suspended after it", marked("10 20 30 30+ 31+")],
    ["late entry", { ...marked("10 20 30 30+"), entry: Float64Array.of(0, 5, 0, 0) }],
    ["all failed", marked("10 20 30")],
  ])("does not stop so with %s", (_, lives) => {
    const plan = redrawPlan(lives);
    expect("reason" in plan ? plan.reason : plan.stopsAt).toBeNull();
  });

  it("failures are found at the ages at which was looked, and never looked for before entry", () => {
    const lives: IntervalLives = {
      low: Float64Array.of(0, 10, 50, 20, 40),
      high: Float64Array.of(10, 20, 60, 40, Number.POSITIVE_INFINITY),
      entry: Float64Array.of(0, 5, 45, 0, 0),
    };
    // All lives start at 0 but two, of 5 and 45; looked was at 10, 20, 40, 50 and 60.
    const looks = [10, 20, 40, 50, 60];
    for (const { exact, within } of drawsOf(lives, Math.log(40), 200)) {
      expect(exact.log.length).toBe(0);
      for (const [at, log] of within.high.entries()) {
        const [low, high] = [Number(Math.exp(within.low[at]!).toPrecision(12)), Number(Math.exp(log).toPrecision(12))];
        expect(looks).toContain(high);
        expect([0, 5, 45, ...looks]).toContain(low);
        expect(low).toBeLessThan(high);
      }
    }
    const [first] = drawsOf(lives, AT_ONCE, 1);
    expect(Array.from(first!.within.low, (log) => Number(Math.exp(log).toPrecision(12)))).toEqual([0, 5, 45, 0, 0]);
  });

  it("failures after the last look are unfailed then", () => {
    const lives: IntervalLives = { low: Float64Array.of(0, 10), high: Float64Array.of(10, 20) };
    for (const { removed, within } of drawsOf(lives, NEVER, 3)) {
      expect([byAge(removed), within.low.length]).toEqual([[[20, 2]], 0]);
    }
  });

  it("a count is so many lives, each drawn by itself", () => {
    const lives = { ...marked("10 20+ 30+"), count: Float64Array.of(3, 2, 0) };
    for (const { removed, exact } of drawsOf(lives, NEVER, 5)) {
      expect([byAge(removed), exact.log.length]).toEqual([[[20, 5]], 0]);
    }
    const [drawn] = drawsOf(lives, Math.log(0.01), 1);
    expect(new Set(drawn!.exact.log).size).toBe(5);
  });

  it("says why it can't draw: parts of lives, too many lives", () => {
    expect(redrawPlan({ ...marked("10 20"), count: Float64Array.of(1, 0.5) })).toEqual({
      reason: "parts of lives can't be drawn",
    });
    expect(redrawPlan({ ...marked("10 20"), count: Float64Array.of(1, 20_000) })).toEqual({
      reason: "there are too many lives to draw a thousand times",
    });
  });

  it.each(FAMILIES)("draws from %s: a share p of lives fails by its quantile of p", (name) => {
    const family = familyOf(name);
    const e = family.fitsShape ? 0.6 : 0;
    const lives = { time: new Float64Array(20_000).fill(1), failed: new Uint8Array(20_000).fill(1) };
    const ages = drawsOf(lives, 3, 1, family, e).flatMap(({ exact }) => Array.from(exact.log));
    for (const p of [0.02, 0.3, 0.5, 0.9]) {
      const share = ages.filter((log) => log <= 3 + family.quantile(p, e).value).length / ages.length;
      // Four standard errors.
      expectAgreement(share, p, { abs: 4 * Math.sqrt((p * (1 - p)) / ages.length) });
    }
  });
});
