import type { ColumnBasis, Covariate } from "../stats/regression/covariates.ts";
import type { Known } from "./compare-lives.ts";

/** Columns that a covariate makes in a regression: itself, or a 0 and 1 for each level but the most common. */
export type Terms = { of: string; reference: string | null; columns: Covariate[] };

/** @param rows - the lives that are used, by number */
export function termsOf(known: Known, rows: Int32Array, reference?: string): Terms {
  if (known.kind === "measured") {
    const values = Float64Array.from(rows, (life) => known.values[life]!);
    return { of: known.name, reference: null, columns: [{ name: known.name, values }] };
  }
  const { name, codes, words } = known;
  const levels = levelsOf(known, rows);
  const base = reference ?? levels[0]!;
  return {
    of: name,
    reference: base,
    columns: levels
      .filter((level) => level !== base)
      .map((level) => {
        const code = words.indexOf(level);
        return { name: `${name}=${level}`, values: hasCode(codes, rows, code) };
      }),
  };
}

function hasCode(codes: Int32Array, rows: Int32Array, code: number): Float64Array {
  const values = new Float64Array(rows.length);
  for (let at = 0; at < rows.length; at++) values[at] = codes[rows[at]!] === code ? 1 : 0;
  return values;
}

/** The levels that occur, the most common first, then by name. */
export function levelsOf({ codes, words }: Extract<Known, { kind: "levels" }>, rows: Int32Array): string[] {
  const lives = new Int32Array(words.length);
  for (let at = 0; at < rows.length; at++) lives[codes[rows[at]!]!]!++;
  return Array.from(words.keys())
    .filter((code) => lives[code]! > 0)
    .sort(
      (one, other) => lives[other]! - lives[one]! || words[one]!.localeCompare(words[other]!, "en", { numeric: true }),
    )
    .map((code) => words[code]!);
}

/** Columns of several covariates less those that others make up already, which say nothing more: a site that lies in one fleet. The basis takes them. */
export function independentColumns(terms: readonly Terms[], basis: ColumnBasis): Covariate[] {
  return terms.flatMap((term) => term.columns).filter((column) => basis.take(column) === null);
}
