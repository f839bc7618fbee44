import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as stats from "../../src/stats/index.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { expectAgreement } from "../agree.ts";
import { PublishedCase } from "../published-case.ts";

const { fitSurface, profileInterval, quantityOf, surfaceOf, waldInterval } = stats;

describe("framelife/stats", () => {
  const bearings = new PublishedCase("01_ball_bearings");
  const lives: stats.Lives = { time: bearings.numbers("revolutions_million"), failed: bearings.flags("failed") };
  const l10: stats.Quantity = { kind: "quantile", p: 0.1 };

  it.each([
    { name: "weibull", prefix: "weibull" },
    { name: "lognormal", prefix: "lognormal" },
    { name: "log-logistic", prefix: "loglogistic" },
  ] as const)("finds the published L10 of the ball bearings under a $name law", ({ name, prefix }) => {
    const { surface, fit } = fitted(lives, name);
    const { value, tolerance } = bearings.value(`${prefix}.L10`);
    expectAgreement(quantityOf(l10, surface.family, fit), value, tolerance);
  });

  it.each([
    { limits: "lr", of: profileInterval },
    { limits: "log", of: ({ family }: stats.Surface, ...rest: OfFit) => waldInterval(family, ...rest) },
  ])("finds the published $limits limits of that L10", ({ limits, of }) => {
    const { surface, fit } = fitted(lives, "weibull");
    const { low, high } = of(surface, fit, l10, 0.95);
    for (const [end, found] of Object.entries({ lo: low, hi: high })) {
      const { value, tolerance } = bearings.value(`weibull.L10_ci95_${limits}_${end}`);
      expectAgreement(found, value, tolerance);
    }
  });

  it("gives what the README shows", () => {
    const section = /^## As a library\n[\s\S]*?```ts\n([\s\S]*?)```\n([\s\S]*?)^## /m.exec(
      readFileSync(packageFile("README.md"), "utf8"),
    );
    const [, code = "", words = ""] = section ?? [];
    const body = code.replace(/^import (\{.*\}) from "framelife\/stats";$/m, "const $1 = stats;");
    const { fit, l10 } = new Function("stats", `${body}\nreturn { fit, l10 };`)(stats) as {
      fit: stats.ConvergedFit;
      l10: stats.Interval;
    };
    // NIST/SEMATECH e-Handbook 8.4.1.3: shape 1.7208, scale 606.5280; L10 and its likelihood limits, R: case 02 in tests/reference
    const handbook = new PublishedCase("02_nist_censored");
    const known = (name: string) => handbook.value(`weibull.${name}`).value;
    expectAgreement(fit.shape, 1.7208, { abs: 5e-5 });
    expectAgreement(fit.scale, 606.528, { abs: 5e-4 });
    expectAgreement(l10.low, known("L10_ci95_lr_lo"), { rel: 1e-5 });
    expectAgreement(l10.high, known("L10_ci95_lr_hi"), { rel: 1e-5 });
    const [shape, scale] = [known("shape").toFixed(3), known("scale").toFixed(1)];
    const [middle, low, high] = ["L10", "L10_ci95_lr_lo", "L10_ci95_lr_hi"].map((name) => known(name).toFixed(1));
    expect(words).toContain(`shape ${shape}, scale ${scale} and an L10 of ${middle} (${low} to ${high})`);
  });

  it.each(examples())("gives what the comments say: $call is $value", ({ call, value }) => {
    const found: unknown = new Function(...Object.keys(stats), `return ${call};`)(...Object.values(stats));
    const digits = value.split(".")[1]?.length ?? 0;
    expect(found).toBeTypeOf("number");
    expectAgreement(Number(found), Number(value), { abs: 0.5000001 * 10 ** -digits });
  });

  it("is where the package says", () => {
    const { exports } = JSON.parse(readFileSync(packageFile("package.json"), "utf8"));
    const built: string = exports["./stats"].default;
    expect(readFileSync(packageFile(built.replace("./dist/", "").replace(/js$/, "ts")), "utf8")).toContain("@module");
    expect(exports["./stats"].types).toBe(built.replace(/js$/, "d.ts"));
  });
});

/** Examples of published functions that need nothing else and say what number comes of them. */
function examples(): { call: string; value: string }[] {
  const folder = packageFile("src/stats");
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((file) => file.endsWith(".ts"));
  const found = files.flatMap((file) => [
    ...readFileSync(`${folder}/${file}`, "utf8").matchAll(/@example ((\w+)\(.*); \/\/ (-?\d+\.?\d*)/g),
  ]);
  const published = found.filter(([, , name = ""]) => name in stats);
  if (published.length < 10) throw new Error("the comments hold hardly any examples");
  return published.map(([, call = "", , value = ""]) => ({ call, value }));
}

type OfFit = [fit: stats.ConvergedFit, quantity: stats.Quantity, level: number];

function fitted(lives: stats.Lives, name: stats.FamilyName): { surface: stats.Surface; fit: stats.ConvergedFit } {
  const surface = surfaceOf(lives, name);
  if ("refused" in surface) throw new Error(`the fit was refused: ${surface.refused}`);
  const fit = fitSurface(surface);
  if (!fit.converged) throw new Error(`the fit did not converge: ${fit.reason}`);
  return { surface, fit };
}
