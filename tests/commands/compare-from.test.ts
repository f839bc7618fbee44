import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { AdjustedFit, CompareAnswer } from "../../src/questions/compare-answer.ts";
import { expectAgreement } from "../agree.ts";
import { PublishedCase } from "../published-case.ts";
import { CompareAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";
import { temporaryTables } from "./temporary-tables.ts";

const { folder, table } = temporaryTables();

async function compared(...args: string[]): Promise<CompareAnswer> {
  const ran = await runProgram(folder, "compare", ...args, "--json");
  expect(ran.err).toBe("");
  return CompareAnswerSchema.parse(JSON.parse(ran.out)) as CompareAnswer;
}

function fitOf({ adjusted }: CompareAnswer): AdjustedFit {
  if ("reason" in adjusted) throw new Error(adjusted.reason);
  return adjusted;
}

describe("framelife compare --from published lives", () => {
  const capacitors = new PublishedCase("06_capacitor");
  const lung = new PublishedCase("07_lung");

  it("gives the accelerated-life regression of the glass capacitors", async () => {
    const answer = await compared("voltage", "--from", capacitors.data, "--adjust", "temperature", "--straight");
    const fit = fitOf(answer);
    const figure = (name: string) => capacitors.value(`weibull_aft.${name}`);
    for (const [term, name] of [
      ["(intercept)", "Intercept"],
      ["voltage", "voltage"],
      ["temperature", "temperature"],
    ] as const) {
      const found = fit.coefficients.find((one) => one.term === term)!;
      expectAgreement(found.estimate, figure(`coef.${name}`).value, figure(`coef.${name}`).tolerance);
      expectAgreement(found.se, figure(`se.${name}`).value, figure(`se.${name}`).tolerance);
      expect(found.scale).toBe("log life");
    }
    expectAgreement(fit.logLikelihood, figure("loglik").value, figure("loglik").tolerance);
    expectAgreement(fit.shape, 1 / figure("sigma").value, { rel: 1e-6 });
    expect(answer).toMatchObject({ form: "falling", nonlinearity: null });
  });

  /** With the column of 1 and 2 out of the way of that of 0 and 1. */
  const lungLives = () => {
    const text = readFileSync(lung.data, "utf8").replace(",status,event,", ",coded,status,");
    return ["--from", table("lung.csv", text), "--model", "ph"];
  };

  it("gives the spline of age in the lung cancer trial, and the tests of it", async () => {
    const answer = await compared("age", ...lungLives(), "--adjust", "sex");
    const figure = (name: string) => lung.value(`spline.${name}`);
    expectAgreement(fitOf(answer).logLikelihood, figure("loglik").value, figure("loglik").tolerance);
    const { nonlinearity } = answer;
    expectAgreement(nonlinearity!.lr, figure("nonlinearity_chisq").value, { rel: 1e-5 });
    expectAgreement(nonlinearity!.p, figure("nonlinearity_p").value, figure("nonlinearity_p").tolerance);
    const { effect } = fitOf(answer).tests;
    expectAgreement(effect.lr, figure("overall_chisq").value, { rel: 1e-5 });
    expectAgreement(effect.p, figure("overall_p").value, figure("overall_p").tolerance);
    expect(answer.form).toBe("flat");
  });

  it("gives the hazards of the trial and whether they stay proportional, of those with everything on record", async () => {
    const answer = await compared("sex", ...lungLives(), "--adjust", "age,ph_ecog", "--straight");
    const fit = fitOf(answer);
    expect(fit.lives).toBe(lung.value("cox.n").value);
    for (const name of ["age", "sex", "ph_ecog"]) {
      const found = fit.coefficients.find(({ term }) => term === name)!;
      const { value, tolerance } = lung.value(`cox.coef.${name}`);
      expectAgreement(found.estimate, value, tolerance, name);
      const test = answer.proportionality.find(({ term }) => term === name)!;
      const published = lung.value(`zph_km.${name}.chisq`);
      expectAgreement(test.statistic, published.value, published.tolerance, name);
    }
    expect(answer.missing.find(({ column }) => column === "ph_ecog")).toEqual({ column: "ph_ecog", lives: 1, of: 228 });
  });

  /** Wards of men and of women: two of each. Institution 1 to 11 or higher; a life without one is left out. */
  const wards = () => {
    const [header, ...lines] = readFileSync(lung.data, "utf8").trim().split("\n");
    const columns = header!.split(",");
    const rows = lines
      .map((line) => Object.fromEntries(line.split(",").map((cell, at) => [columns[at], cell])))
      .filter(({ inst }) => inst !== "")
      .map(({ inst, time, event, age, sex }) => {
        const men = sex === "1";
        return [time, event, age, men ? "men" : "women", `${men ? "m" : "f"}${Number(inst) <= 11 ? 1 : 2}`].join(",");
      });
    return ["--from", table("wards.csv", `time,status,age,kind,ward\n${rows.join("\n")}\n`), "--model", "ph"];
  };

  it("drops levels that others make up within their stratum, as R does", async () => {
    // R 4.2.2, survival 3.5-3: coxph(Surv(time, event) ~ age + ward + strata(sex)) of the 227 with inst, where
    // ward = paste0(ifelse(sex == 1, "m", "f"), ifelse(inst <= 11, 1, 2)); wardm2 is NA, wardf2 -0.4160480726161, wardm1 -0.0093805944831
    const answer = await compared("age", ...wards(), "--adjust", "ward", "--stratify", "kind", "--straight");
    const fit = fitOf(answer);
    expectAgreement(fit.logLikelihood, -636.10523693, { abs: 1e-6 });
    for (const [term, estimate, se] of [
      ["age", 0.0150333358801, 0.00935383817456],
      ["ward=m2", 0.0093805944831, 0.19188342693788],
      ["ward=f1", 0.4160480726161, 0.2833735509093],
    ] as const) {
      const found = fit.coefficients.find((one) => one.term === term)!;
      expectAgreement(found.estimate, estimate, { rel: 1e-5 }, term);
      expectAgreement(found.se, se, { rel: 1e-5 }, term);
    }
    expect(fit.coefficients).toHaveLength(3);
  });

  it.each([
    ["kind", "kind is the same for all lives of each ward, and --stratify compares within it only", "ward"],
    ["ward", "levels of ward belong to one kind or another, and --stratify compares within it only", "kind"],
  ])("says why %s can't be told", async (effect, why, strata) => {
    const answer = await compared(effect, ...wards(), "--adjust", "age", "--stratify", strata);
    expect(answer.answer).toContain(why);
  });

  it("takes rows that stand for many lives as so many lives, not as one unit", async () => {
    // R 4.2.2, survival 3.5-3: survreg(Surv(left, right, type="interval2") ~ factor(plant), weights=tubes), a left of 0 as NA
    const tubes = new PublishedCase("09b_heat_exchanger");
    const named = readFileSync(tubes.data, "utf8").replaceAll(/^(\d),/gm, "P$1,");
    const path = table("tubes.csv", named);
    const answer = await compared(
      ...["plant", "--from", path, "--columns", "time_low=left,time_high=right,count=tubes", "--reference", "P1"],
    );
    const fit = fitOf(answer);
    expectAgreement(fit.logLikelihood, -53.9679025442, { abs: 1e-6 });
    for (const [term, value] of [
      ["plant=P2", -0.4055681327],
      ["plant=P3", 0.07661598869],
    ] as const) {
      expectAgreement(fit.coefficients.find((one) => one.term === term)!.estimate, value, { rel: 1e-5 });
    }
    expect(fit).toMatchObject({ units: null, limits: "likelihood" });
    expect(answer.answer).not.toContain("unit");
  });

  it("takes lives known by intervals, and levels", async () => {
    const cosmesis = new PublishedCase("09a_cosmesis");
    const answer = await compared("group", "--from", cosmesis.data, "--columns", "time_low=left,time_high=right");
    const { value, tolerance } = cosmesis.value("weibull_aft.loglik");
    expectAgreement(fitOf(answer).logLikelihood, value, tolerance);
    expect(answer.contrasts).toHaveLength(1);
  });
});

/** Lives of two kinds, the second of which last half as long, 12 units of five each. */
function lives(more: (unit: number, life: number) => string = () => "", header = ""): string {
  const rows = Array.from({ length: 60 }, (_, at) => {
    const [unit, life] = [at % 12, Math.floor(at / 12)];
    const kind = unit % 2 === 0 ? "oil" : "grease";
    const time = Math.round((200 + 37 * ((at * 7) % 23)) * (kind === "oil" ? 2 : 1));
    return `u${unit},${kind},${time},${at % 5 === 0 ? 0 : 1}${more(unit, life)}`;
  });
  return `unit,lube,time,status${header}\n${rows.join("\n")}\n`;
}

describe("framelife compare", () => {
  it("says first what the contrast is, the ratio with its limits, and the verdict", async () => {
    const answer = await compared("lube", "--from", table("two.csv", lives()));
    expect(answer.answer).toMatch(
      /^Lives with lube oil last 1\.9\d* times \(.+\) as long as with grease: longer\. From 48 failures in 60 lives of 12 units\.$/,
    );
    expect(answer).toMatchObject({ verdict: "longer", form: null, contrast: { first: "oil", second: "grease" } });
    expect(fitOf(answer).limits).toBe("units left out in turn");
    expect(answer.crude.bands.map(({ by }) => by)).toEqual([{ lube: "grease" }, { lube: "oil" }]);
  });

  it("holds a level against the one that is named", async () => {
    const answer = await compared("lube", "--from", table("two.csv", lives()), "--reference", "oil");
    expect(answer).toMatchObject({ verdict: "shorter", contrast: { first: "grease", second: "oil" } });
  });

  it("calls a ratio within what matters no practical difference", async () => {
    const answer = await compared("lube", "--from", table("two.csv", lives()), "--matters", "9");
    expect(answer.verdict).toBe("no practical difference");
  });

  it("tells what more failures would settle, by the formula of the design", async () => {
    const text = lives((unit, life) => `,${(unit * 5 + life * 3) % 7}`, ",x");
    const answer = await compared("x", "--from", table("x.csv", text), "--straight");
    const { settle, ratio } = answer.detectable;
    const se = Math.log(ratio!) / (1.959964 + 0.841621);
    for (const { ratio: wanted, failures } of settle) {
      const needed = 48 * (((1.959964 + 0.841621) * se) / Math.log(wanted)) ** 2 - 48;
      expect(Math.abs(failures - Math.max(0, needed))).toBeLessThan(1.01);
    }
    expect(settle.map(({ ratio: one }) => one)).toEqual([1.15, 1.25, 1.5]);
    expect(answer.answer).toContain("more failures would settle whether it is 1.15 times");
  });

  it("corrects a straight line for the gauge, and says when the gauge explains all", async () => {
    const text = lives((unit, life) => `,${3 + ((unit * 5 + life * 3) % 7) / 2}`, ",end_play");
    const path = table("gauge.csv", text);
    const { gauge } = await compared("end_play", "--from", path, "--straight", "--gauge-sd", "0.5");
    expect(gauge!.reliability).toBeGreaterThan(0.5);
    expect(Math.log(gauge!.uncorrected.estimate!) / gauge!.reliability).toBeCloseTo(
      Math.log(gauge!.lifeRatio.estimate!),
      9,
    );
    const none = await compared("end_play", "--from", path, "--gauge-sd", "40");
    expect(none.gauge!.lifeRatio.estimate).toBe(null);
    expect(none.warnings.join()).toContain("no correction for the gauge");
  });

  it.each([
    {
      name: "one level",
      text: lives().replaceAll("grease", "oil"),
      says: "lube is the same for all lives that can be used",
    },
    { name: "no failures", text: lives().replaceAll(/,1$/gm, ",0"), says: "can't be told" },
    {
      name: "a level in which none failed",
      text: lives()
        .replaceAll(/(u1,grease,\d+),[01]/g, "$1,0")
        .replaceAll("u1,grease", "u1,synthetic"),
      warns: "lube synthetic: none of 5 lives failed, which says nothing beside others",
    },
    {
      name: "all failures in one level",
      text: lives().replaceAll(/(oil,\d+),[01]/g, "$1,0"),
      says: "lube is the same for all lives that can be used",
      warns: "lube oil: none of 30 lives failed",
    },
    {
      name: "what always goes together",
      text: lives((unit) => `,${unit % 2 === 0 ? "north" : "south"}`, ",site"),
      more: ["--adjust", "site"],
      says: "lube always goes together with site: which of them it is can't be seen",
    },
    {
      name: "a covariate that is alike for all",
      text: lives(() => ",one", ",site"),
      more: ["--adjust", "site"],
      warns: "site: the same for all lives, so nothing to hold alike",
    },
    {
      name: "a covariate that most lack",
      text: lives((unit) => (unit < 8 ? "," : ",a"), ",site"),
      more: ["--adjust", "site"],
      warns: "site is not held alike: 40 lives lack it, of 60 lives with lube",
    },
    {
      name: "a covariate of very many levels",
      text: lives((unit, life) => `,${unit}x${life}`, ",site"),
      more: ["--adjust", "site"],
      warns: "site is not held alike: it has 60 levels, more than the 50 that lives could tell",
    },
    {
      name: "few failures for what is fitted",
      text: lives().replaceAll(/,1$/gm, (_, at: number) => (at % 4 === 0 ? ",1" : ",0")),
      warns: "fitted numbers: few",
    },
  ] as { name: string; text: string; more?: string[]; says?: string; warns?: string }[])(
    "says so: $name",
    async ({ text, more = [], says = "", warns = "" }) => {
      const answer = await compared("lube", "--from", table("hostile.csv", text), ...more);
      expect(answer.answer).toContain(says);
      expect(answer.warnings.join("\n")).toContain(warns);
    },
  );

  it("can't compare more levels than lives could tell", async () => {
    const text = lives((unit, life) => `,${unit}x${life}`, ",site").replaceAll(/,0,/g, ",1,");
    const path = table("many.csv", text);
    const { answer } = await compared("site", "--from", path);
    expect(answer).toContain("it has 60 levels, more than the 50 that can be compared; pick some with --where");
  });

  it("sets no values against each other that are not on record", async () => {
    const path = table(
      "range.csv",
      lives((unit, life) => `,${2 + ((unit + life) % 6)}`, ",x"),
    );
    const { answer, lifeRatio } = await compared("x", "--from", path, "--contrast", "3,20");
    expect(answer).toContain("20 lies outside what is on record, 2 to 7; --contrast names other values");
    expect(lifeRatio.estimate).toBe(null);
  });

  it("draws a best value where few failures leave the curve nearly loose", async () => {
    const text = lives((unit, life) => `,${2 + ((unit * 7 + life * 3) % 11) / 2}`, ",x");
    const few = text.replaceAll(/,1(,[\d.]+)$/gm, (row, x: string, at: number) => (at % 7 === 0 ? row : `,0${x}`));
    const { adjusted } = await compared("x", "--from", table("loose.csv", few));
    expect("reason" in adjusted ? adjusted.reason : adjusted.failed).toBeTruthy();
  });

  it.each([
    { args: ["status"], says: 'Cannot compare by "status"' },
    { args: ["colour"], says: 'Cannot compare by "colour": there is no such column' },
    { args: ["lube", "--adjust", "colour"], says: 'Cannot compare by "colour"' },
    { args: ["lube", "--adjust", "x,x"], says: 'Cannot adjust for "x" twice' },
    { args: ["lube", "--straight"], says: "Cannot use --straight with lube" },
    { args: ["lube", "--bands", "1,2"], says: "Cannot use --bands with lube" },
    { args: ["lube", "--contrast", "1,2"], says: "Cannot use --contrast with lube" },
    { args: ["lube", "--reference", "water"], says: "its levels are grease, oil" },
    { args: ["x", "--reference", "1"], says: "Cannot use --reference with x" },
    { args: ["lube", "--stratify", "x"], says: "Cannot use --stratify with --model aft" },
    { args: ["lube", "--slot", "seals"], says: "Cannot use --slot with --from" },
    { args: ["x", "--bands", "2,1"], says: "give edges in rising order" },
    { args: ["x", "--contrast", "2"], says: "give two different values" },
    { args: ["x", "--matters", "0.9"], says: "give a ratio above 1" },
    { args: ["x", "--gauge-sd", "0"], says: "give a number above 0" },
  ])("refuses $args with status 2", async ({ args, says }) => {
    const path = table(
      "refused.csv",
      lives((unit, life) => `,${unit + life}`, ",x"),
    );
    const ran = await runProgram(folder, "compare", ...args, "--from", path);
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(says);
  });

  it("prints the ratios crude beside adjusted, and writes them to a CSV file", async () => {
    const path = table(
      "text.csv",
      lives((unit, life) => `,${unit + life}`, ",x"),
    );
    const ran = await runProgram(folder, "compare", "lube", "--from", path, "--adjust", "x", "--csv", "out.csv");
    expect(ran.out).toMatch(/lives at\s+over lives at\s+crude\s+all else alike\s+p\s+verdict/);
    expect(ran.out).toContain("Who was compared with whom");
    expect(ran.out).toContain("builds weren't chosen by lot; a trial would tell");
  });
});
