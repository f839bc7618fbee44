import type { Lives } from "../../../src/stats/lives.ts";

/** Lives written as their ages, with + after one that was still unfailed: "6 6 9+". */
export function markedLives(text: string): Lives {
  const words = text.split(" ");
  return {
    time: Float64Array.from(words, (word) => Number.parseFloat(word)),
    failed: Uint8Array.from(words, (word) => (word.endsWith("+") ? 0 : 1)),
  };
}
