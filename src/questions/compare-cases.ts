import type { Known } from "./compare-lives.ts";
import { allOf, count, inFull } from "./wording.ts";

/** A covariate to be held alike as it is used: its levels without those that say nothing. */
export type Cases = {
  /** Lives that are used, by number. */
  rows: Int32Array;
  /** Covariates that are held alike. */
  others: Known[];
  /** Of each column how many lives do not have it. */
  missing: { column: string; lives: number; of: number }[];
  /** What was left out, and why, in words. */
  said: string[];
};

/** A column that over this share of lives lack is left out rather than the lives. */
const MOST_MISSING = 0.5;

/**
 * The lives of an adjusted comparison: those of which the effect and all that is held alike are on record. A covariate that most lack
 * is not held alike. Lives of a level in which none failed say nothing beside others (their likelihood is greatest with a life without
 * end): they are left out, which leaves all other figures as they would be.
 * @param failed - 1: the life failed, at a known age or within an interval
 * @param named - whether somebody asked for just these columns: then it is said where one is alike for all
 */
export function casesOf(effect: Known, covariates: readonly Known[], failed: Uint8Array, named = true): Cases {
  const with_ = numbersWhere(failed.length, (life) => isKnown(effect, life));
  const missing = [
    { column: effect.name, lives: failed.length - with_.length, of: failed.length },
    ...covariates.map((known) => {
      const lives = with_.filter((life) => !isKnown(known, life)).length;
      return { column: known.name, lives, of: with_.length };
    }),
  ];
  const lacking = covariates.filter((_, at) => missing[at + 1]!.lives > MOST_MISSING * with_.length);
  const many = covariates.filter((known) => !lacking.includes(known) && levelsIn(known, with_) > MOST_LEVELS);
  const told = covariates.filter((known) => !lacking.includes(known) && !many.includes(known));
  const said = many.map(
    (known) =>
      `${wordsOf(known.name)} is not held alike: it has ${inFull(levelsIn(known, with_))} levels, more than the ${MOST_LEVELS} that lives could tell`,
  );
  const rare = covariates
    .map((known, at) => ({ known, ...missing[at + 1]! }))
    .filter(({ known }) => lacking.includes(known))
    .map(
      ({ column, lives, of }) =>
        `${wordsOf(column)} is not held alike: ${count(lives, "life lacks", "lives lack")} it, of ${count(of, "life", "lives")} with ${wordsOf(effect.name)}`,
    );
  said.push(...rare);
  const complete = with_.filter((life) => told.every((known) => isKnown(known, life)));
  const unfailed = new Set<number>();
  for (const known of [effect, ...told]) {
    if (known.kind === "measured") continue;
    const idle = levelsWithoutFailure(known.codes, complete, failed);
    if (idle.size === 0) continue;
    const rows = complete.filter((life) => idle.has(known.codes[life]!));
    for (const life of rows) unfailed.add(life);
    const words = allOf([...idle].map((code) => known.words[code]!));
    said.push(
      `${wordsOf(known.name)} ${words}: none of ${count(rows.length, "life", "lives")} failed, which says nothing beside others; left out of the adjusted figures`,
    );
  }
  const rows = complete.filter((life) => !unfailed.has(life));
  const others = told.filter((known) => varies(known, rows));
  const alike = told.filter((known) => !others.includes(known)).map(({ name }) => wordsOf(name));
  if (named && alike.length > 0) said.push(`${allOf(alike)}: the same for all lives, so nothing to hold alike`);
  return { rows, others, missing, said };
}

/** More levels than this are as many numbers to fit: for most of them lives are too few. */
export const MOST_LEVELS = 50;

/** Of levels how many occur; a measured value has none. */
export function levelsIn(known: Known, rows: Int32Array): number {
  return known.kind === "measured" ? 0 : new Set(rows.map((life) => known.codes[life]!)).size;
}

/** The name of a column for people. */
export function wordsOf(column: string): string {
  return column.replaceAll("_", " ");
}

export function isKnown(known: Known, life: number): boolean {
  return known.kind === "measured" ? Number.isFinite(known.values[life]) : known.codes[life]! >= 0;
}

function numbersWhere(size: number, holds: (life: number) => boolean): Int32Array {
  return Int32Array.from({ length: size }, (_, life) => life).filter(holds);
}

function levelsWithoutFailure(codes: Int32Array, rows: Int32Array, failed: Uint8Array): Set<number> {
  const idle = new Set<number>();
  for (const life of rows) idle.add(codes[life]!);
  for (const life of rows) if (failed[life] === 1) idle.delete(codes[life]!);
  return idle;
}

function varies(known: Known, rows: Int32Array): boolean {
  const of = (life: number) => (known.kind === "measured" ? known.values[life]! : known.codes[life]!);
  return rows.some((life) => of(life) !== of(rows[0]!));
}
