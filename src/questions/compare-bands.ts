import type { Known } from "./compare-lives.ts";
import { levelsOf } from "./compare-terms.ts";
import { count, inFull } from "./wording.ts";

/** Lives of a part of the effect: a band of a measured value, or a level. */
export type Band = { name: string; rows: Int32Array };

/**
 * Bands of the effect, from low to high: between edges, the lower one in; or the levels by name.
 * @param edges - in rising order; where there are none, the thirds of the values
 */
export function bandsOf(effect: Known, edges: readonly number[]): Band[] {
  const all = Int32Array.from(
    { length: effect.kind === "measured" ? effect.values.length : effect.codes.length },
    (_, life) => life,
  );
  if (effect.kind === "levels") {
    const known = all.filter((life) => effect.codes[life]! >= 0);
    return levelsOf(effect, known)
      .toSorted((one, other) => one.localeCompare(other, "en", { numeric: true }))
      .map((name) => ({ name, rows: known.filter((life) => effect.words[effect.codes[life]!] === name) }));
  }
  const known = all.filter((life) => Number.isFinite(effect.values[life]));
  const cuts = edges.length > 0 ? edges : thirds(Float64Array.from(known, (life) => effect.values[life]!));
  const ends = [Number.NEGATIVE_INFINITY, ...cuts, Number.POSITIVE_INFINITY];
  return ends.slice(1).map((high, at) => {
    const low = ends[at]!;
    const rows = known.filter((life) => effect.values[life]! >= low && effect.values[life]! < high);
    return { name: nameOf(low, high), rows };
  });
}

/**
 * Edges of the workspace between which no life lies are likely to be meant in another unit.
 * @param lives - how many lives lie in a band, by its name
 * @param edges - in rising order
 */
export function outerBandsWarnings(
  lives: ReadonlyMap<string, number>,
  edges: readonly number[],
  unit: string,
): string[] {
  if (edges.length < 2) return [];
  const [lowest, ...others] = namesBetween(edges);
  const under = lives.get(lowest!) ?? 0;
  const over = lives.get(others.at(-1)!) ?? 0;
  if (under + over === 0 || others.slice(0, -1).some((name) => (lives.get(name) ?? 0) > 0)) return [];
  return [
    `no life lies between the edges of bands: ${inFull(under)} of ${count(under + over, "life lies", "lives lie")} ${lowest} ${unit}; are the edges meant in ${unit}? "bands: { end_play: { edges: [...], unit: ... } }" names another`,
  ];
}

/** Names of the bands that edges make, from low to high. */
function namesBetween(edges: readonly number[]): string[] {
  const ends = [Number.NEGATIVE_INFINITY, ...edges, Number.POSITIVE_INFINITY];
  return ends.slice(1).map((high, at) => nameOf(ends[at]!, high));
}

/** As bands are called in the store. */
function nameOf(low: number, high: number): string {
  if (low === Number.NEGATIVE_INFINITY) return high === Number.POSITIVE_INFINITY ? "all" : `under ${high}`;
  return high === Number.POSITIVE_INFINITY ? `${low} and over` : `${low} to ${high}`;
}

function thirds(values: Float64Array): number[] {
  const sorted = values.toSorted();
  const cuts = [1 / 3, 2 / 3].map((share) =>
    Number((sorted[Math.ceil(share * sorted.length)] ?? Number.NaN).toPrecision(4)),
  );
  return [...new Set(cuts)].filter((cut) => cut > sorted[0]!);
}
