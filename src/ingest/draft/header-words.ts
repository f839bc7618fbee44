import { slotHeader } from "./slot-header.ts";
import { bestScore, type Phrase, parsePhrase, phraseScore, tokensOf } from "./tokens.ts";
import { isUnit } from "./unit-in-header.ts";
import { FIELD_WORDS } from "./words/field-words.ts";

export type Words = keyof typeof FIELD_WORDS;
type Parsed = { phrases: Phrase[]; never: Phrase[] };

const parsed = new Map<Words, Map<string, Parsed>>(
  (Object.keys(FIELD_WORDS) as Words[]).map((kind) => [kind, parsedFields(kind)]),
);

function parsedFields(kind: Words): Map<string, Parsed> {
  const fields = Object.entries(FIELD_WORDS[kind]).map(([field, { words, never }]): [string, Parsed] => [
    field,
    { phrases: words.map(parsePhrase), never: never === undefined ? [] : never.split(" ").map(parsePhrase) },
  ]);
  return new Map(fields);
}

/** Tokens of a header as a whole, and of its last part where several rows were joined: that part is the column's own title. */
export type HeaderTokens = { whole: string[]; own: string[] };

// "In" below a title of days is no inch.
const DAYS = /^(dates?|days?|datum|daten|tage?)$/i;

export function headerTokens(header: string): HeaderTokens {
  const parts = header.split(" / ");
  if (parts.length > 1 && isUnit(parts.at(-1) ?? "") && !DAYS.test(parts.at(-2) ?? "")) parts.pop();
  const whole = tokensOf(parts.join(" "));
  return { whole, own: parts.length > 1 ? tokensOf(parts.at(-1) ?? "") : whole };
}

/** How well a header names a field of a record kind: 0 not at all, 4 by one word, more by several. */
export function headerScore(kind: Words, field: string, { whole, own }: HeaderTokens): number {
  const words = parsed.get(kind)?.get(field);
  if (words === undefined) return 0;
  if (words.never.some((phrase) => phraseScore(phrase, own) > 0)) return 0;
  return Math.max(bestScore(words.phrases, whole), own === whole ? 0 : 1.05 * bestScore(words.phrases, own));
}

const WORTH = 2.4;

const judged = new Map<string, boolean>();
const MOST_JUDGED = 10_000;

/** Whether a cell reads like a title of a column of any record kind. */
export function isHeaderWord(text: string): boolean {
  const known = judged.get(text);
  if (known !== undefined) return known;
  if (judged.size >= MOST_JUDGED) judged.clear();
  const judgement = judgeHeaderWord(text);
  judged.set(text, judgement);
  return judgement;
}

function judgeHeaderWord(text: string): boolean {
  const tokens = headerTokens(text);
  if (slotHeader(tokens.whole) !== undefined) return true;
  return [...parsed].some(([kind, fields]) =>
    [...fields.keys()].some((field) => headerScore(kind, field, tokens) >= WORTH),
  );
}
