import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { LifeAnswer, LifeGroup } from "../../src/questions/answer.ts";
import { expectAgreement } from "../agree.ts";
import { PublishedCase } from "../published-case.ts";
import { LifeAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const bearings = new PublishedCase("01_ball_bearings");
const handbook = new PublishedCase("02_nist_censored");
const bounds = new PublishedCase("14_fixed_shape_bounds");
const patients = new PublishedCase("10_mgus2");

const { folder, table } = temporaryTables();

async function lifeOf(...args: string[]): Promise<LifeAnswer> {
  const ran = await runProgram(folder, "life", ...args, "--json");
  expect(ran.err).toBe("");
  return LifeAnswerSchema.parse(JSON.parse(ran.out)) as LifeAnswer;
}

async function groupOf(...args: string[]): Promise<LifeGroup> {
  return (await lifeOf(...args)).groups[0]!;
}

const BEARINGS = ["--from", bearings.data, "--columns", "time=revolutions_million,status=failed"];
const HANDBOOK = ["--from", handbook.data, "--columns", "time=hours,status=failed"];

describe("framelife life --distribution", () => {
  // Lieblein & Zelen 1956; figures by R (tests/reference/published/README.md).
  it.each([
    { law: "lognormal", figure: "lognormal.L10", of: ({ l10 }: LifeGroup) => l10.estimate },
    { law: "lognormal", figure: "lognormal.loglik", of: ({ logLikelihood }: LifeGroup) => logLikelihood },
    { law: "log-logistic", figure: "loglogistic.L50", of: ({ median }: LifeGroup) => median.estimate },
    { law: "gamma", figure: "gamma.shape", of: ({ shape }: LifeGroup) => shape.estimate },
    { law: "gamma", figure: "gamma.loglik", of: ({ logLikelihood }: LifeGroup) => logLikelihood },
    { law: "exponential", figure: "exponential.mean", of: ({ mean }: LifeGroup) => mean.estimate },
  ])("$law: $figure as published", async ({ law, figure, of }) => {
    const { value, tolerance } = bearings.value(figure);
    expectAgreement(of(await groupOf(...BEARINGS, "--distribution", law)), value, tolerance, figure);
  });

  it("names no other law that is not clearly better: the handbook's criteria of Weibull and lognormal differ by 0.12", async () => {
    const answer = await lifeOf(...HANDBOOK);
    expect(answer.groups[0]!.alternatives.map(({ distribution }) => distribution).toSorted()).toEqual([
      "exponential",
      "gamma",
      "log-logistic",
      "lognormal",
    ]);
    expect(answer.groups[0]!.alternatives.every(({ clearlyBetter }) => !clearlyBetter)).toBe(true);
    expect(answer.warnings.join()).not.toContain("clearly better");
  });
});

describe("framelife life --interval", () => {
  const many = `time,status,unit\n${Array.from({ length: 40 }, (_, life) => `${100 + 7 * ((life * 17) % 40)},1,U${life}`).join("\n")}\n`;

  it("takes calibrated limits under 30 failures, from 999 draws of a seed that is told", async () => {
    const { interval } = await groupOf(...BEARINGS);
    expect(interval).toMatchObject({ method: "calibrated", draws: 999, seed: 1, instead: null });
  });

  it("takes likelihood limits from 30 failures on where each unit gives one life", async () => {
    expect((await groupOf("--from", table("many.csv", many))).interval.method).toBe("profile");
  });

  it("leaves out units in turn where they repeat", async () => {
    const path = table(
      "repeated.csv",
      many.replaceAll(/U(\d+)/g, (_, unit: string) => `U${Number(unit) % 10}`),
    );
    const { interval, warnings } = await groupOf("--from", path);
    expect(interval).toMatchObject({ method: "clustered", clusters: 10, clusteredBy: "unit" });
    expect(warnings.join()).not.toContain("take as independent");
  });

  it("leaves out 200 groups of units where there are more, put together by the seed", async () => {
    const lives = Array.from({ length: 500 }, (_, life) => `${100 + ((life * 37) % 500)},1,U${life % 250}`);
    const path = table("fleet.csv", `time,status,unit\n${lives.join("\n")}\n`);
    expect((await groupOf("--from", path)).interval).toMatchObject({ method: "clustered", clusters: 200, seed: 1 });
  });

  it("takes no limits from units that are too few to tell how they differ, and says so", async () => {
    const path = table("two.csv", "time,status,unit\n100,1,a\n200,1,a\n300,1,b\n400,1,b\n");
    const { interval } = await groupOf("--from", path);
    expect(interval).toMatchObject({
      method: "calibrated",
      instead: "2 units are too few to tell how units differ",
    });
  });

  it("says that likelihood limits take the lives of a unit as independent", async () => {
    const path = table(
      "repeated.csv",
      many.replaceAll(/U(\d+)/g, (_, unit: string) => `U${Number(unit) % 10}`),
    );
    const { interval, warnings } = await groupOf("--from", path, "--interval", "profile");
    expect(interval.method).toBe("profile");
    expect(warnings.join()).toContain("take as independent");
  });

  it("can't leave out units that give one life each, and says what it took instead", async () => {
    const { interval } = await groupOf(...BEARINGS, "--interval", "clustered");
    expect(interval).toMatchObject({ method: "calibrated", instead: "all lives are of units of their own" });
  });

  it("gives the same limits for the same seed, and others for another", async () => {
    const [one, again, other] = await Promise.all(
      ["1", "1", "2"].map((seed) => groupOf(...BEARINGS, "--interval", "bootstrap", "--seed", seed)),
    );
    expect(one!.l10).toEqual(again!.l10);
    expect(other!.l10.low).not.toBe(one!.l10.low);
    expect(other!.l10.estimate).toBe(one!.l10.estimate);
  });
});

describe("framelife life --shape", () => {
  it.each([1, 1.5, 2])(
    "bounds L10 below by the chi-square distribution where nothing failed, shape %f (Nelson 1985)",
    async (shape) => {
      const { rows, tolerance } = bounds.table("bounds");
      const row = rows.find((one) => one["shape"] === shape && one["r"] === 0 && one["confidence"] === 0.95);
      const path = ["--from", bounds.data, "--columns", "time=hours,status=failed,unit=unit"];
      const group = await groupOf(...path, "--shape", String(shape));
      expectAgreement(group.l10.low, row?.["L10_lower"] ?? Number.NaN, tolerance);
      expect(group.l10).toMatchObject({ estimate: null, high: null });
      expect(group.interval.method).toBe("chi-square");
    },
  );

  it("shows several shapes where failures are too few to fit one, and says so in its sentence", async () => {
    const answer = await lifeOf("--from", bounds.data, "--columns", "time=hours,status=failed,unit=unit");
    expect(answer.groups[0]!.assumedShape.map(({ shape }) => shape)).toEqual([1, 1.5, 2, 3]);
    expect(answer.answer).toMatch(
      /no failures; with a Weibull shape of 1.5 taken as known, 10 % fail after [\d,]+ at the earliest/,
    );
  });
});

describe("framelife life --mission and --quantiles", () => {
  it("gives the share unfailed at an age as published", async () => {
    const { mission } = await groupOf(...HANDBOOK, "--interval", "wald", "--mission", "100,1000");
    for (const [at, time] of [100, 1000].entries()) {
      const { value, tolerance } = handbook.value(`weibull.R_at_${time}`);
      expectAgreement(mission[at]!.estimate, value, tolerance);
      const low = handbook.value(`weibull.R_at_${time}_ci95_lo`);
      expectAgreement(mission[at]!.low, low.value, low.tolerance);
    }
  });

  it("gives each running unit its chance to run on", async () => {
    const { conditional, shape, scale } = await groupOf(...HANDBOOK, "--mission", "100,400");
    expect(conditional).toHaveLength(20);
    // exp((t / scale)^shape - ((t + further) / scale)^shape), at 500 h for 100 h more.
    const [a, b] = [500, 600].map((age) => (age / scale.estimate!) ** shape.estimate!) as [number, number];
    expectAgreement(conditional[0]!.estimate, Math.exp(a - b), { rel: 1e-12 });
    expect(conditional[0]).toMatchObject({ age: 500, further: 100 });
  });

  it("adds the shares asked for to the usual ones", async () => {
    const { quantiles } = await groupOf(...BEARINGS, "--quantiles", "0.02,0.5");
    expect(quantiles.map(({ p }) => p)).toEqual([0.01, 0.02, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9]);
    const { value, tolerance } = bearings.value("weibull.L50");
    expectAgreement(quantiles[5]!.estimate, value, tolerance);
  });
});

describe("framelife life --modes", () => {
  // Kyle et al. 2002, case W-CIF1: lives in months, those of no length given half a month so that all 1384 count.
  const rows = readFileSync(patients.data, "utf8").trim().split("\n").slice(1);
  const text = `time,status,mode\n${rows
    .map((row) => row.split(","))
    .map(
      ([, , , time, event]) =>
        `${time === "0" ? 0.5 : time},${event === "0" ? 0 : 1},${["", "pcm", "death"][Number(event)]}`,
    )
    .join("\n")}\n`;

  it("gives the cumulative incidence of each mode, not one less the curve of that mode alone", async () => {
    const { modes } = await groupOf("--from", table("modes.csv", text), "--modes");
    const pcm = modes!.modes.find(({ mode }) => mode === "pcm")!;
    const at = (time: number) => pcm.incidence.findLast((step) => step.time <= time)!;
    const { rows: published, tolerance } = patients.table("cif_overall");
    for (const { time, cif_pcm: incidence, se_ij_pcm: se } of published) {
      expectAgreement(at(time!).estimate, incidence!, tolerance);
      expectAgreement(at(time!).se, se!, tolerance);
    }
    expect(modes!.check.difference).not.toBeNull();
  });
});

describe("framelife life --pool", () => {
  it("moves a group of few failures further towards the others than one of many", async () => {
    const lives = (group: string, number: number, scale: number) =>
      Array.from(
        { length: number },
        (_, life) => `${Math.round(scale * (-Math.log(1 - (life + 0.5) / number)) ** 0.5)},1,${group}`,
      );
    const text = `time,status,site\n${[...lives("a", 60, 1000), ...lives("b", 60, 1100), ...lives("c", 3, 2500)].join("\n")}\n`;
    const { groups, comparisons } = await lifeOf("--from", table("pool.csv", text), "--by", "site", "--pool");
    const moved = groups.map(({ pooled }) => Math.abs(pooled!.moved!));
    expect(moved[2]).toBeGreaterThan(5 * Math.max(moved[0]!, moved[1]!));
    expect(groups[2]!.pooled!.l10.estimate).toBeLessThan(groups[2]!.l10.estimate!);
    expect(comparisons[0]!.pooling).toMatchObject({ groups: 3 });
    expect(comparisons[0]!.pooling!.priors).toContain("half-normal");
  });
});

describe("framelife life refuses", () => {
  it.each([
    { args: ["--shape", "2", "--distribution", "gamma"], says: "Cannot use --shape with --distribution gamma" },
    { args: ["--shape", "2", "--interval", "wald"], says: "Cannot use --interval wald with --shape" },
    { args: ["--pool", "--distribution", "gamma"], says: "Cannot use --pool with --shape or --distribution" },
    { args: ["--rating"], says: "Cannot use --rating with --from" },
    { args: ["--shape", "0"], says: "give a number above 0" },
    { args: ["--mission", "100,x"], says: "give a number above 0" },
    { args: ["--quantiles", "10"], says: "give shares above 0 and below 1" },
    {
      args: ["--distribution", "normal"],
      says: "Allowed choices are weibull, exponential, lognormal, log-logistic, gamma",
    },
    { args: ["--seed", "1.5"], says: "give a whole number" },
  ])("$args with status 2", async ({ args, says }) => {
    const ran = await runProgram(folder, "life", "--from", table("plain.csv", "time,status\n1,1\n2,1\n"), ...args);
    expect(ran).toMatchObject({ status: 2, out: "" });
    expect(ran.err).toContain(says);
  });
});
