import type { ColumnProfile } from "./column-profile.ts";
import { dateShare } from "./content-score.ts";
import { headerScore, headerTokens } from "./header-words.ts";
import { knownShare } from "./vocabulary.ts";

/** Whether cells may name parts: short, no dates, with figures or in capitals; other words may say something else. */
export function mayBeParts(column: ColumnProfile): boolean {
  const { filled, averageLength, words } = column;
  return filled > 0 && averageLength <= 30 && dateShare(column) < 0.2 && knownShare(words, isPartLike) >= 0.8;
}

function isPartLike(text: string): boolean {
  return text.length >= 2 && /^[^\p{Ll}]+$|\p{L}.*\d|\d.*\p{L}/u.test(text);
}

/** Whether a header says that something was fitted or renewed. */
export function saysFitted({ header }: ColumnProfile): boolean {
  return headerScore("slot", "fitted", headerTokens(header)) >= 1.8;
}
