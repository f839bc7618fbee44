import { describe, expect, it } from "vitest";
import type { Lives } from "../../../src/stats/lives.ts";
import { kaplanMeier } from "../../../src/stats/survival/kaplan-meier.ts";
import type { LimitScale } from "../../../src/stats/survival/survival-limits.ts";
import { survivalQuantile } from "../../../src/stats/survival/survival-quantile.ts";
import { PublishedCase } from "../../published-case.ts";

const fans = new PublishedCase("03_genfan");
const bearings = new PublishedCase("01_ball_bearings");
const delayed = new PublishedCase("08b_delayed_entry");

function marked(text: string): Lives {
  const words = text.split(" ");
  return {
    time: Float64Array.from(words, (word) => Number.parseFloat(word)),
    failed: Uint8Array.from(words, (word) => (word.endsWith("+") ? 0 : 1)),
  };
}

const lives: Record<string, Lives> = {
  fans: { time: fans.numbers("hours"), failed: fans.flags("status") },
  bearings: { time: bearings.numbers("revolutions_million"), failed: bearings.flags("failed") },
  "simulated late entry": {
    time: delayed.numbers("exit_hours"),
    failed: delayed.flags("failed"),
    entry: delayed.numbers("entry_hours"),
  },
  "Gehan, treated": marked("6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+"),
  "Gehan, control": marked("1 1 2 2 3 4 4 5 5 8 8 8 8 11 11 12 12 15 17 22 23"),
  "four failures": marked("1 2 3 4"),
  "flat to the end": marked("1 2 3+ 4+"),
};

// R 4.2.2, survival 3.5-3: quantile(survfit(Surv(time, status) ~ 1, conf.type = SCALE), P)
const cases: [string, LimitScale, number, number | null, number | null, number | null][] = [
  ["fans", "log-log", 0.1, 2080, 1150, 6100],
  ["fans", "log-log", 0.25, 8750, 3450, null],
  ["fans", "log-log", 0.5, null, 8750, null],
  ["bearings", "log-log", 0.1, 33, 17.88, 45.6],
  ["bearings", "log-log", 0.5, 67.8, 48.48, 84.12],
  ["simulated late entry", "log-log", 0.1, 5125, 1692, 5595],
  ["simulated late entry", "log-log", 0.5, 13384, 11106, 16460],
  ["Gehan, treated", "log-log", 0.25, 13, 6, 22],
  ["Gehan, treated", "log-log", 0.5, 23, 13, null],
  ["Gehan, treated", "plain", 0.1, 6, 6, 13],
  ["Gehan, treated", "log", 0.5, 23, 16, null],
  ["Gehan, control", "log-log", 0.5, 8, 4, 11],
  ["four failures", "log-log", 0.25, 1.5, 1, 3],
  ["four failures", "log-log", 0.5, 2.5, 1, null],
  ["four failures", "plain", 0.25, 1.5, 1, 3],
  ["flat to the end", "log-log", 0.5, 3, 1, null],
];

describe("survivalQuantile", () => {
  it.each(cases)("%s, %s limits, p = %d: as R's survfit", (name, limits, p, estimate, low, high) => {
    const steps = kaplanMeier(lives[name]!, { level: 0.95, limits });
    expect(survivalQuantile(steps, p)).toMatchObject({ estimate, low, high });
  });

  const lung = new PublishedCase("07_lung");
  it.each([
    ["plain", "plain"],
    ["log", "log"],
    ["log-log", "loglog"],
  ] as const)("median of the lung data of Loprinzi et al. 1994, %s limits: as R's survfit", (limits, name) => {
    const steps = kaplanMeier({ time: lung.numbers("time"), failed: lung.flags("event") }, { level: 0.95, limits });
    expect(survivalQuantile(steps, 0.5)).toEqual({
      estimate: lung.value("km.median").value,
      low: lung.value(`km.median_ci95_${name}_lo`).value,
      high: lung.value(`km.median_ci95_${name}_hi`).value,
    });
  });

  it("says why an estimate or a limit is lacking", () => {
    const steps = kaplanMeier(lives["fans"]!, { level: 0.95, limits: "log-log" });
    expect(survivalQuantile(steps, 0.5).reason).toBe("the survival curve stays above 0.5");
    expect(survivalQuantile(steps, 0.25).reason).toBe("no upper limit: the curve's own limit stays above 0.75");
    expect(survivalQuantile(steps, 0.1)).not.toHaveProperty("reason");
    expect(survivalQuantile([], 0.5)).toMatchObject({ estimate: null, low: null, high: null });
  });

  it("refuses a fraction outside (0, 1)", () => {
    expect(() => survivalQuantile([], 50)).toThrow("p must be in (0, 1), found 50");
  });
});
