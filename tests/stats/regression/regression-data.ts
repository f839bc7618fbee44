import { readFileSync } from "node:fs";
import type { IntervalLives, Lives } from "../../../src/stats/lives.ts";
import {
  type AcceleratedLife,
  type ConvergedAcceleratedLife,
  fitAcceleratedLife,
} from "../../../src/stats/regression/accelerated-life.ts";
import type { Covariate } from "../../../src/stats/regression/covariates.ts";
import type { AcceleratedFamily } from "../../../src/stats/regression/life-model.ts";
import { PublishedCase } from "../../published-case.ts";

/** A set of lives with their covariates. */
export type Regressed = { lives: Lives | IntervalLives; covariates: Covariate[] };

export const FAMILIES: AcceleratedFamily[] = ["weibull", "exponential", "lognormal", "log-logistic"];

/** A named column. */
export function column(name: string, values: ArrayLike<number>): Covariate {
  return { name, values: Float64Array.from(values) };
}

/** The fit, or a failed test. */
export function fitted({ lives, covariates }: Regressed, family?: AcceleratedFamily): ConvergedAcceleratedLife {
  const fit = fitAcceleratedLife(lives, covariates, family);
  if (!fit.converged) throw new Error(`the fit did not converge: ${fit.reason}`);
  return fit;
}

/** Why there is no fit. */
export function refused(fit: AcceleratedLife): string {
  if (fit.converged) throw new Error("the fit was expected to be refused");
  return fit.reason;
}

export function capacitors(): Regressed & { case: PublishedCase } {
  const found = new PublishedCase("06_capacitor");
  const covariates = ["temperature", "voltage"].map((name) => column(name, found.numbers(name)));
  return { case: found, lives: { time: found.numbers("time"), failed: found.flags("status") }, covariates };
}

/** The rows of the lung data in which none of the columns is blank. */
export function lung(...columns: string[]): Regressed & { case: PublishedCase; institution: Int32Array } {
  const found = new PublishedCase("07_lung");
  const rows = Array.from(found.texts("time").keys()).filter((row) =>
    columns.every((name) => found.texts(name)[row] !== ""),
  );
  const pick = (name: string) => Float64Array.from(rows, (row) => found.numbers(name)[row]!);
  return {
    case: found,
    lives: { time: pick("time"), failed: Uint8Array.from(pick("event")) },
    covariates: columns.filter((name) => name !== "inst").map((name) => column(name, pick(name))),
    institution: Int32Array.from(pick("inst")),
  };
}

export function visits(): Regressed & { case: PublishedCase } {
  const found = new PublishedCase("09a_cosmesis");
  const chemo = found.texts("group").map((name) => (name === "radiotherapy" ? 0 : 1));
  return {
    case: found,
    lives: { low: found.numbers("left"), high: found.numbers("right", Number.POSITIVE_INFINITY) },
    covariates: [column("chemo", chemo)],
  };
}

/** A set of regression-lives.csv: of all kinds of ends, or exact and right-censored ones (`ends`, `entered`). */
export function referenceLives(set: string): Regressed & { unit: Int32Array } {
  const rows = rowsOf("regression-lives.csv").filter(([name]) => name === set);
  const numbers = (at: number) =>
    Float64Array.from(rows, (row) => (row[at] === "" ? Number.POSITIVE_INFINITY : Number(row[at])));
  return {
    lives: { low: numbers(1), high: numbers(2), entry: numbers(3), count: numbers(4) },
    covariates: [column("x", numbers(5)), column("g", numbers(6))],
    unit: Int32Array.from(numbers(7)),
  };
}

/** Rows of reference-regressions.csv, made by reference-regressions.py. */
export function referenceRows(): { set: string; family: AcceleratedFamily; what: string; values: number[] }[] {
  return rowsOf("reference-regressions.csv").map(([set = "", family = "", what = "", ...values]) => {
    return {
      set,
      family: family as AcceleratedFamily,
      what,
      values: values.filter((value) => value !== "").map(Number),
    };
  });
}

function rowsOf(file: string): string[][] {
  const [, ...lines] = readFileSync(new URL(`./${file}`, import.meta.url), "utf8")
    .trim()
    .split("\n");
  return lines.map((line) => line.split(","));
}

/** The upper triangle of a matrix, by rows. */
export function upper(matrix: number[][]): number[] {
  return matrix.flatMap((row, at) => row.slice(at));
}
