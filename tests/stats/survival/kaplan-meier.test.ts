import { describe, expect, it } from "vitest";
import type { Lives } from "../../../src/stats/lives.ts";
import { type CurveStep, kaplanMeier } from "../../../src/stats/survival/kaplan-meier.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const fans = new PublishedCase("03_genfan");
const heart = new PublishedCase("08_heart");
const delayed = new PublishedCase("08b_delayed_entry");
const lung = new PublishedCase("07_lung");
const tubes = new PublishedCase("09b_heat_exchanger");

const fanLives: Lives = { time: fans.numbers("hours"), failed: fans.flags("status") };
const lungLives: Lives = { time: lung.numbers("time"), failed: lung.flags("event") };
const transplanted = Array.from(heart.flags("transplant").keys()).filter((row) => heart.flags("transplant")[row] === 1);
const heartColumn = (name: string) => Float64Array.from(transplanted, (row) => heart.numbers(name)[row]!);
const heartLives: Lives = {
  time: heartColumn("stop"),
  failed: Uint8Array.from(heartColumn("event")),
  entry: heartColumn("start"),
};
const delayedLives: Lives = {
  time: delayed.numbers("exit_hours"),
  failed: delayed.flags("failed"),
  entry: delayed.numbers("entry_hours"),
};

function failures(steps: CurveStep[]): CurveStep[] {
  return steps.filter(({ failed }) => failed > 0);
}

function lastUpTo(steps: CurveStep[], time: number): CurveStep | undefined {
  return steps.findLast((step) => step.time <= time);
}

describe("kaplanMeier agrees with survfit() of R's survival", () => {
  const tables = [
    { source: "Nelson 1982, fans, at each failure", of: fans, table: "km_event_times", lives: fanLives },
    { source: "Nelson 1982, fans, at round ages", of: fans, table: "km_at", lives: fanLives },
    { source: "Loprinzi et al. 1994, lung", of: lung, table: "km_at", lives: lungLives },
    { source: "Crowley & Hu 1977, late entry", of: heart, table: "km_truncated_at", lives: heartLives },
    { source: "simulated late entry", of: delayed, table: "km_truncated_at", lives: delayedLives },
  ];
  it.each(tables)("$source: $table", ({ of, table, lives }) => {
    const { rows, tolerance } = of.table(table);
    expect(rows.length).toBeGreaterThan(4);
    for (const [scale, name] of [
      ["plain", "plain"],
      ["log", "log"],
      ["log-log", "loglog"],
    ] as const) {
      const steps = kaplanMeier(lives, { level: 0.95, limits: scale });
      for (const row of rows) {
        const step = lastUpTo(steps, row["time"]!);
        expectAgreement(step?.survival, row["surv"]!, tolerance, `survival at ${row["time"]}`);
        expectAgreement(step?.se, row["greenwood_se"]!, tolerance, `se at ${row["time"]}`);
        expectAgreement(step?.low, row[`${name}_lo`]!, tolerance, `${scale} low at ${row["time"]}`);
        expectAgreement(step?.high, row[`${name}_hi`]!, tolerance, `${scale} high at ${row["time"]}`);
      }
    }
  });

  it("counts those at risk at each failure as the source does (Nelson 1982, fans)", () => {
    const { rows } = fans.table("km_event_times");
    const steps = failures(kaplanMeier(fanLives, { level: 0.95, limits: "plain" }));
    expect(steps.map(({ time, atRisk, failed }) => [time, atRisk, failed])).toEqual(
      rows.map((row) => [row["time"], row["n_risk"], row["n_event"]]),
    );
  });

  it("takes counts: heat-exchanger tubes at inspections (Meeker & Escobar 1998; F and Greenwood's error recomputed)", () => {
    const right = tubes.numbers("right", Number.POSITIVE_INFINITY);
    const lives: Lives = {
      time: right.map((high, row) => (high === Number.POSITIVE_INFINITY ? tubes.numbers("left")[row]! : high)),
      failed: Uint8Array.from(right, (high) => (high === Number.POSITIVE_INFINITY ? 0 : 1)),
      count: tubes.numbers("tubes"),
    };
    const { rows, tolerance } = tubes.table("nonparametric");
    const steps = failures(kaplanMeier(lives, { level: 0.95, limits: "log-log" }));
    expect(steps.map(({ atRisk, failed }) => [atRisk, failed])).toEqual(
      rows.map((row) => [row["at_risk"], row["cracked"]]),
    );
    for (const [at, row] of rows.entries()) {
      expectAgreement(1 - steps[at]!.survival, row["F"]!, tolerance);
      expectAgreement(steps[at]!.se, row["greenwood_se"]!, tolerance);
    }
  });
});

describe("kaplanMeier agrees with published examples", () => {
  const handbook: Lives = {
    time: Float64Array.of(10, 32, 56, 98, 122, 181, 50, 100, 125, 150, ...Array<number>(10).fill(200)),
    failed: Uint8Array.of(1, 1, 1, 1, 1, 1, ...Array<number>(14).fill(0)),
  };

  it("W-KM1: NIST/SEMATECH e-Handbook 8.2.1.5 (survival printed; errors and limits recomputed in R)", () => {
    const steps = failures(kaplanMeier(handbook, { level: 0.95, limits: "log-log" }));
    expect(steps.map(({ atRisk }) => atRisk)).toEqual([20, 19, 17, 16, 14, 11]);
    const printed = [0.95, 0.9, 0.8471, 0.7941, 0.7374, 0.6704];
    const errors = [0.04873, 0.06708, 0.08139, 0.09192, 0.10136, 0.11214];
    for (const [at, step] of steps.entries()) {
      expectAgreement(step.survival, printed[at]!, { abs: 5e-5 });
      expectAgreement(step.se, errors[at]!, { abs: 1e-4 });
    }
    expectAgreement(steps.at(-1)?.low, 0.4034, { abs: 1e-4 });
    expectAgreement(steps.at(-1)?.high, 0.8385, { abs: 1e-4 });
  });

  it("W-KM2: public-health teaching module with plain limits, as in SciPy's test_survival.py case t4", () => {
    const pairs = "24/0 3/1 11/0 19/0 24/0 13/0 14/1 2/0 18/0 17/0 24/0 21/0 12/0 1/1 10/0 23/1 6/0 5/1 9/0 17/1".split(
      " ",
    );
    const lives: Lives = {
      time: Float64Array.from(pairs, (pair) => Number(pair.split("/")[0])),
      failed: Uint8Array.from(pairs, (pair) => Number(pair.split("/")[1])),
    };
    const steps = failures(kaplanMeier(lives, { level: 0.95, limits: "plain" }));
    expect(steps.map(({ time }) => time)).toEqual([1, 3, 5, 14, 17, 23]);
    const survivals = [0.95, 0.897, 0.844, 0.76, 0.676, 0.507];
    const halfWidths = [0.096, 0.135, 0.162, 0.214, 0.246, 0.341];
    for (const [at, { survival, low, high }] of steps.entries()) {
      expectAgreement(survival, survivals[at]!, { abs: 1e-3 });
      expectAgreement(survival - low!, halfWidths[at]!, { abs: 1e-3 });
      expectAgreement(high, Math.min(1, survivals[at]! + halfWidths[at]!), { abs: 1e-3 });
    }
  });

  it("W-KM3: textbook example whose last life failed, as in SciPy's test_survival.py case t1: no variance at survival 0", () => {
    const lives: Lives = {
      time: Float64Array.of(37, 43, 47, 56, 60, 62, 71, 77, 80, 81),
      failed: Uint8Array.of(0, 0, 1, 1, 0, 0, 0, 1, 1, 1),
    };
    const steps = failures(kaplanMeier(lives, { level: 0.95, limits: "plain" }));
    const expected = [
      [47, 0.875, 0.645828, 1],
      [56, 0.75, 0.449943, 1],
      [77, 0.5, 0.052701, 0.947299],
      [80, 0.25, 0, 0.662389],
    ] as const;
    for (const [at, [time, survival, low, high]] of expected.entries()) {
      expect(steps[at]!.time).toBe(time);
      expectAgreement(steps[at]!.survival, survival, { abs: 1e-6 });
      expectAgreement(steps[at]!.low, low, { abs: 1e-6 });
      expectAgreement(steps[at]!.high, high, { abs: 1e-6 });
    }
    expect(steps.at(-1)).toMatchObject({ time: 81, survival: 0, se: null, low: null, high: null });
  });

  it("D-1: late entry worked by hand, open on the left: 2/3, 4/9, 8/27, 4/27", () => {
    const lives: Lives = {
      time: Float64Array.of(3, 6, 5, 9, 8),
      failed: Uint8Array.of(1, 1, 1, 0, 1),
      entry: Float64Array.of(0, 0, 2, 4, 5),
    };
    const steps = failures(kaplanMeier(lives, { level: 0.95, limits: "log-log" }));
    expect(steps.map(({ atRisk }) => atRisk)).toEqual([3, 3, 3, 2]);
    for (const [at, survival] of [2 / 3, 4 / 9, 8 / 27, 4 / 27].entries()) {
      expectAgreement(steps[at]!.survival, survival, { abs: 1e-12 });
    }
  });

  it("W-LR3: treated group of the remission data (Gehan 1965, MASS data gehan): S(10) 0.7529, se 0.0963; S(23) 0.4482, se 0.1346", () => {
    const words = "6 6 6 6+ 7 9+ 10 10+ 11+ 13 16 17+ 19+ 20+ 22 23 25+ 32+ 32+ 34+ 35+".split(" ");
    const lives: Lives = {
      time: Float64Array.from(words, (word) => Number.parseFloat(word)),
      failed: Uint8Array.from(words, (word) => (word.endsWith("+") ? 0 : 1)),
    };
    const steps = kaplanMeier(lives, { level: 0.95, limits: "log-log" });
    for (const [time, survival, se] of [
      [10, 0.7529, 0.0963],
      [23, 0.4482, 0.1346],
    ] as const) {
      expectAgreement(lastUpTo(steps, time)?.survival, survival, { abs: 5e-5 });
      expectAgreement(lastUpTo(steps, time)?.se, se, { abs: 5e-5 });
    }
  });
});

describe("kaplanMeier", () => {
  it("gives the same curve whether lives are repeated or counted, in whole ages or not", () => {
    for (const unit of [1, Math.PI]) {
      const time = Float64Array.of(3, 3, 3, 5, 8, 8).map((age) => age * unit);
      const once = { time, failed: Uint8Array.of(1, 1, 0, 1, 0, 0) };
      const counted = {
        time: Float64Array.of(8, 5, 3, 3, 99).map((age) => age * unit),
        failed: Uint8Array.of(0, 1, 1, 0, 1),
        count: Float64Array.of(2, 1, 2, 1, 0),
      };
      const options = { level: 0.9, limits: "log-log" } as const;
      expect(kaplanMeier(counted, options)).toEqual(kaplanMeier(once, options));
    }
  });

  it("has no limits before the first failure, where nothing has been seen to vary", () => {
    const steps = kaplanMeier(
      { time: Float64Array.of(1, 2, 3), failed: Uint8Array.of(0, 1, 0) },
      { level: 0.95, limits: "plain" },
    );
    expect(steps[0]).toMatchObject({ survival: 1, se: 0, low: null, high: null, censored: 1 });
  });

  it("starts where enough are at risk when lives enter late, and not at all when they never are", () => {
    const lives: Lives = {
      time: Float64Array.of(2, 9, 9, 9, 9),
      failed: Uint8Array.of(1, 1, 0, 0, 0),
      entry: Float64Array.of(1, 3, 4, 5, 6),
    };
    const options = { level: 0.95, limits: "log-log" } as const;
    expect(kaplanMeier(lives, { ...options, minimumAtRisk: 4 }).map(({ time, survival }) => [time, survival])).toEqual([
      [9, 0.75],
    ]);
    expect(kaplanMeier(lives, options)[0]).toMatchObject({ time: 2, atRisk: 1, survival: 0 });
    expect(kaplanMeier(lives, { ...options, minimumAtRisk: 5 })).toEqual([]);
  });

  it("gives no steps for no lives", () => {
    const none = { time: new Float64Array(0), failed: new Uint8Array(0) };
    expect(kaplanMeier(none, { level: 0.95, limits: "log-log" })).toEqual([]);
  });

  it("refuses what are no lives, and a level outside (0, 1)", () => {
    const options = { level: 0.95, limits: "log-log" } as const;
    const failed = Uint8Array.of(1);
    expect(() => kaplanMeier({ time: Float64Array.of(Number.NaN), failed }, options)).toThrow(RangeError);
    expect(() => kaplanMeier({ time: Float64Array.of(1, 2), failed }, options)).toThrow(
      "failed has 1 values, expected 2",
    );
    expect(() => kaplanMeier({ time: Float64Array.of(1), failed: Uint8Array.of(2) }, options)).toThrow(RangeError);
    expect(() => kaplanMeier({ time: Float64Array.of(1), failed, entry: Float64Array.of(1) }, options)).toThrow(
      "enters at 1 and ends at 1",
    );
    expect(() => kaplanMeier({ time: Float64Array.of(1), failed, count: Float64Array.of(-1) }, options)).toThrow(
      RangeError,
    );
    expect(() => kaplanMeier({ time: Float64Array.of(1), failed }, { ...options, level: 95 })).toThrow("found 95");
  });
});
