import type { Family } from "../distribution/family.ts";
import { expByTable } from "../table-exp.ts";
import type { LifeRows } from "./life-rows.ts";

/** What a few rows add to a log-likelihood: how many failures they have, and its gradient and second derivatives. */
export type LeftOutTerms = {
  failures: number;
  slopeAt(theta: Float64Array): Float64Array;
  bendAt(theta: Float64Array): Float64Array;
};

/**
 * Of Weibull and exponential lives whose ends are all known, the terms laid out so that those of a few rows are gone through where they lie:
 * what a jackknife asks for, of each unit.
 * @returns null for other lives
 */
export function leftOutTerms(
  rows: LifeRows,
  { name, fitsShape }: Family,
): ((taken: readonly number[]) => LeftOutTerms) | null {
  if ((name !== "weibull" && name !== "exponential") || rows.within.low.length > 0) return null;
  const laid = laidOut(rows, fitsShape);
  const termsOf = termsByRow(rows.points.row, laid.log.length);
  return (taken) => {
    const terms = taken.flatMap(termsOf);
    let failures = 0;
    for (const term of terms) failures += laid.failed[term]!;
    return {
      failures,
      slopeAt: (theta) => slopeOf(laid, terms, theta, fitsShape ? failures : 0),
      bendAt: (theta) => bendOf(laid, terms, theta, fitsShape ? failures : 0),
    };
  };
}

type LaidOut = {
  width: number;
  /** Term by term: 1, the standard columns, and log age where the family has a shape. */
  x: Float64Array;
  log: Float64Array;
  weight: Float64Array | null;
  /** How many failures a term stands for. */
  failed: Float64Array;
  fitsShape: boolean;
};

function laidOut({ points: { log, failed, weight, columns } }: LifeRows, fitsShape: boolean): LaidOut {
  const width = columns.length + (fitsShape ? 2 : 1);
  const x = new Float64Array(log.length * width).fill(1);
  const all = fitsShape ? [...columns, log] : columns;
  for (let one = 0; one < all.length; one++) {
    const column = all[one]!;
    for (let term = 0, at = one + 1; term < log.length; term++, at += width) x[at] = column[term]!;
  }
  return { width, x, log, weight, failed: Float64Array.from(failed, (is, at) => is * (weight?.[at] ?? 1)), fitsShape };
}

/** Terms of a row: its end, and its entry. */
function termsByRow(row: Int32Array | null, terms: number): (row: number) => readonly number[] {
  if (row === null) return (one) => [one];
  const found = new Map<number, number[]>();
  for (let term = 0; term < terms; term++) {
    const own = found.get(row[term]!);
    if (own === undefined) found.set(row[term]!, [term]);
    else own.push(term);
  }
  return (one) => found.get(one) ?? [];
}

/** The weighted exp(z) of a term. */
function hazardOf({ width, x, log, weight, fitsShape }: LaidOut, term: number, theta: Float64Array): number {
  let z = fitsShape ? 0 : log[term]!;
  for (let one = 0, at = term * width; one < width; one++, at++) z += theta[one]! * x[at]!;
  return weight === null ? expByTable(z) : weight[term]! * expByTable(z);
}

/** @param shaped - failures to be counted by the shape */
function slopeOf(laid: LaidOut, terms: readonly number[], theta: Float64Array, shaped: number): Float64Array {
  const { width, x, failed } = laid;
  const slope = new Float64Array(width);
  for (let at = 0; at < terms.length; at++) {
    const term = terms[at]!;
    const rise = failed[term]! - hazardOf(laid, term, theta);
    const from = term * width;
    for (let one = 0; one < width; one++) slope[one]! += rise * x[from + one]!;
  }
  if (shaped > 0) slope[width - 1]! += shaped / theta[width - 1]!;
  return slope;
}

function bendOf(laid: LaidOut, terms: readonly number[], theta: Float64Array, shaped: number): Float64Array {
  const { width, x } = laid;
  const bend = new Float64Array(width * width);
  for (let at = 0; at < terms.length; at++) {
    const from = terms[at]! * width;
    const hazard = hazardOf(laid, terms[at]!, theta);
    for (let one = 0; one < width; one++) {
      const own = hazard * x[from + one]!;
      for (let other = one; other < width; other++) bend[one * width + other]! -= own * x[from + other]!;
    }
  }
  for (let one = 1; one < width; one++) {
    for (let other = 0; other < one; other++) bend[one * width + other] = bend[other * width + one]!;
  }
  if (shaped > 0) bend[width * width - 1]! -= shaped / theta[width - 1]! ** 2;
  return bend;
}
