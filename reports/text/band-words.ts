import { wordsOf } from "../../src/questions/compare-cases.ts";

/**
 * A band of a measured value, or a level, by its name in the store.
 * @param unit - null for levels, and values without one
 * @example bandWords("7 and over", "thou"); // "7 thou and over"
 */
export function bandWords(name: string, unit: string | null): string {
  const words = wordsOf(name);
  if (unit === null) return words;
  const [, from] = /^(.+) and over$/.exec(words) ?? [];
  return from === undefined ? `${words} ${unit}` : `${from} ${unit} and over`;
}
