import type { Confounding } from "./compare-answer.ts";
import type { Band } from "./compare-bands.ts";
import { isKnown } from "./compare-cases.ts";
import type { Known } from "./compare-lives.ts";
import { levelsOf } from "./compare-terms.ts";

/** From so great a difference on two bands are not alike: common practice, no source. */
export const UNLIKE = 0.25;

/**
 * How each covariate lies across the bands: its mean, or the share of each of its levels; and the greatest difference between two bands over
 * the standard deviation within bands, as lives on record have it.
 */
export function confoundingOf(bands: readonly Band[], covariates: readonly Known[]): Confounding[] {
  return covariates.flatMap((known) => {
    const parts = bands.map(({ name, rows }) => ({ band: name, rows: rows.filter((life) => isKnown(known, life)) }));
    if (known.kind === "measured") {
      return [spread(known.name, null, parts, (life) => known.values[life]!)];
    }
    const all = Int32Array.from(parts.flatMap(({ rows }) => [...rows]));
    return levelsOf(known, all).map((level) => {
      const code = known.words.indexOf(level);
      return spread(known.name, level, parts, (life) => (known.codes[life] === code ? 1 : 0));
    });
  });
}

type Part = { band: string; rows: Int32Array };

function spread(covariate: string, level: string | null, parts: Part[], of: (life: number) => number): Confounding {
  const moments = parts.map(({ rows }) => momentsOf(rows, of));
  const filled = moments.filter(({ lives }) => lives > 0);
  const within =
    filled.reduce((sum, { squares }) => sum + squares, 0) / filled.reduce((sum, { lives }) => sum + lives, 0);
  const means = filled.map(({ mean }) => mean);
  const range = Math.max(...means) - Math.min(...means);
  return {
    covariate,
    level,
    byBand: parts.map(({ band }, at) => ({ band, value: moments[at]!.lives > 0 ? moments[at]!.mean : null })),
    difference: range === 0 || filled.length < 2 ? 0 : within > 0 ? range / Math.sqrt(within) : null,
  };
}

function momentsOf(rows: Int32Array, of: (life: number) => number): { mean: number; squares: number; lives: number } {
  const lives = rows.length;
  let [sum, squares] = [0, 0];
  for (let at = 0; at < lives; at++) sum += of(rows[at]!);
  const mean = sum / lives;
  for (let at = 0; at < lives; at++) squares += (of(rows[at]!) - mean) ** 2;
  return { mean, squares, lives };
}
