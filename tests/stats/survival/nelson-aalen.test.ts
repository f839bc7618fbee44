import { describe, expect, it } from "vitest";
import type { Lives } from "../../../src/stats/lives.ts";
import { nelsonAalen } from "../../../src/stats/survival/nelson-aalen.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { markedLives } from "./marked-lives.ts";

const fans = new PublishedCase("03_genfan");
const delayed = new PublishedCase("08b_delayed_entry");
// R 4.2.2, survival 3.5-3: summary(survfit(Surv(entry_hours, exit_hours, failed) ~ 1), times = TIMES)[c("cumhaz", "std.chaz")]
const LATE: [number, number, number][] = [
  [5000, 0.1021321371614949, 0.03861155549289648],
  [10000, 0.3686254950545506, 0.07532725324932547],
  [15000, 0.7697051338385351, 0.11595635203277897],
  [20000, 1.2973252356314504, 0.17337456390564174],
];
const options = { level: 0.95, limits: "log" } as const;

describe("nelsonAalen", () => {
  it("agrees with survfit()$cumhaz and $std.chaz of R's survival on the fans of Nelson 1982", () => {
    const { rows, tolerance } = fans.table("nelson_aalen");
    const steps = nelsonAalen({ time: fans.numbers("hours"), failed: fans.flags("status") }, options).filter(
      ({ failed }) => failed > 0,
    );
    expect(steps.length).toBe(rows.length);
    for (const [at, row] of rows.entries()) {
      expect(steps[at]?.time).toBe(row["time"]);
      expectAgreement(steps[at]?.hazard, row["cumhaz"]!, tolerance);
      expectAgreement(steps[at]?.se, row["se"]!, tolerance);
    }
  });

  it("W-KM1: NIST/SEMATECH e-Handbook 8.2.1.5 (sum of d/n recomputed: 0.05 to 0.38629)", () => {
    const lives: Lives = {
      time: Float64Array.of(10, 32, 56, 98, 122, 181, 50, 100, 125, 150, 200),
      failed: Uint8Array.of(1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0),
      count: Float64Array.of(1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 10),
    };
    const hazards = nelsonAalen(lives, options).filter(({ failed }) => failed > 0);
    for (const [at, value] of [0.05, 0.10263, 0.16146, 0.22396, 0.29538, 0.38629].entries()) {
      expectAgreement(hazards[at]?.hazard, value, { abs: 1e-4 });
    }
  });

  it.each(LATE)("late entry, simulated: %d h", (time, hazard, se) => {
    const lives = {
      time: delayed.numbers("exit_hours"),
      failed: delayed.flags("failed"),
      entry: delayed.numbers("entry_hours"),
    };
    const step = nelsonAalen(lives, options).findLast((one) => one.time <= time);
    expectAgreement(step?.hazard, hazard, { rel: 1e-12 });
    expectAgreement(step?.se, se, { rel: 1e-12 });
  });

  it("has limits on the log or plain scale (by hand: one of two failed, H = 0.5, se 0.5, z = 1.959964)", () => {
    const lives = markedLives("1+ 3 4+");
    const log = nelsonAalen(lives, options);
    expect(log[0]).toMatchObject({ hazard: 0, se: 0, low: null, high: null, censored: 1 });
    expectAgreement(log[1]?.low, 0.5 * Math.exp(-1.959963984540054), { rel: 1e-12 });
    expectAgreement(log[1]?.high, 0.5 * Math.exp(1.959963984540054), { rel: 1e-12 });
    const plain = nelsonAalen(lives, { level: 0.95, limits: "plain" });
    expect(plain[1]?.low).toBe(0);
    expectAgreement(plain[1]?.high, 0.5 + 0.5 * 1.959963984540054, { rel: 1e-12 });
  });

  it("stays finite where all that remain fail, at zero times, and in any unit", () => {
    for (const unit of [1, 1e9, 1e-6]) {
      const { time, failed } = markedLives("0 2 2 2");
      const steps = nelsonAalen({ time: time.map((age) => age * unit), failed }, options);
      expect(steps.map(({ hazard }) => hazard)).toEqual([0.25, 1.25]);
      expectAgreement(steps[1]?.se, Math.sqrt(1 / 16 + 1 / 3), { rel: 1e-12 });
    }
  });

  it("starts where enough are at risk, and gives nothing where they never are or there are no lives", () => {
    const late: Lives = {
      time: Float64Array.of(2, 9, 9, 9, 9),
      failed: Uint8Array.of(1, 1, 0, 0, 0),
      entry: Float64Array.of(1, 3, 4, 5, 6),
    };
    expect(nelsonAalen(late, { ...options, minimumAtRisk: 4 }).map(({ hazard }) => hazard)).toEqual([0.25]);
    expect(nelsonAalen(late, { ...options, minimumAtRisk: 5 })).toEqual([]);
    expect(nelsonAalen({ time: new Float64Array(0), failed: new Uint8Array(0) }, options)).toEqual([]);
    expect(nelsonAalen(markedLives("1+ 2+"), options).every(({ hazard, low }) => hazard === 0 && low === null)).toBe(
      true,
    );
  });

  it("refuses a level outside (0, 1) and an entry at the end of its life", () => {
    expect(() => nelsonAalen(markedLives("1"), { level: 1, limits: "log" })).toThrow(RangeError);
    expect(() => nelsonAalen({ ...markedLives("1"), entry: Float64Array.of(1) }, options)).toThrow("enters at 1");
  });
});
