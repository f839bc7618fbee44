import type { Word } from "./column-profile.ts";
import { bearingAt, slotOf } from "./slot-header.ts";
import { bestScore, CELL_FILLERS, type Phrase, parsePhrase, tokensOf } from "./tokens.ts";
import { SLOT_TITLES } from "./words/slot-words.ts";
import { BLANK_MARKS, VALUE_WORDS } from "./words/value-words.ts";

/** What an owner's word may stand for: the best guess, and whether another was as good. */
export type Meaning = { target: string; sure: boolean };

const lists = new Map<string, [string, Phrase[]][]>(
  Object.entries(VALUE_WORDS).map(([list, words]) => [
    list,
    Object.entries(words).map(([target, phrases]): [string, Phrase[]] => [target, phrases.map(parsePhrase)]),
  ]),
);

const SIGNS: Record<string, string> = {
  "✓": "yes",
  "✔": "yes",
  "☑": "yes",
  "☒": "yes",
  "✗": "no",
  "✘": "no",
  "☐": "no",
};

/** The list of words for a field of a slot or card: damage differs by what is damaged. */
export function listOf(key: string, slot?: string): string {
  if (key !== "damage_mode") return key;
  const kind = slot === undefined ? "any" : (SLOT_TITLES[slot]?.kind ?? "any");
  return `damage_mode.${kind}`;
}

/** What a word of a list stands for; none where nothing in it tells, or where it denies what it says. */
export function meaningOf(list: string, text: string): Meaning | undefined {
  const sign = SIGNS[text.trim()];
  const words = lists.get(list) ?? [];
  if (sign !== undefined) return words.some(([target]) => target === sign) ? { target: sign, sure: true } : undefined;
  if (YES_NO.has(list) && isCode(text)) return undefined;
  const tokens = tokensOf(text);
  const own = words.find(([target]) => target === tokens.join("_"));
  if (own !== undefined) return { target: own[0], sure: true };
  const scored = words
    .map(([target, phrases]) => ({ target, score: scoreOf(phrases, tokens) }))
    .sort((a, b) => b.score - a.score);
  const [best, second] = scored;
  if (best === undefined || best.score < 1.2) return undefined;
  return { target: best.target, sure: best.score >= 2 && best.score - (second?.score ?? 0) > 0.4 };
}

const YES_NO = new Set(["fitted", "meter_changed"]);

/** Letters and figures in one ("N-1") are the name of a thing. */
function isCode(text: string): boolean {
  return /^\S*\d\S*$/.test(text.trim()) && /\p{L}/u.test(text);
}

const NEGATIONS = new Set("no not nicht kein keine ohne without never non pas sans".split(" "));

/** A phrase that does not know of a "no" in the text says the contrary of it. */
function scoreOf(phrases: Phrase[], tokens: string[]): number {
  const denied = tokens.some((token) => NEGATIONS.has(token));
  const may = denied ? phrases.filter(knowsNegation) : phrases;
  return bestScore(may, tokens, CELL_FILLERS);
}

function knowsNegation({ groups }: Phrase): boolean {
  return groups.some((group) => group.some((words) => words.some((word) => NEGATIONS.has(word))));
}

/** The slot that a cell names, in a column where cells do. */
export function slotMeaning(text: string, mayImply = false): Meaning | undefined {
  const tokens = tokensOf(text);
  const found = slotOf(tokens, mayImply);
  if (found !== undefined) return { target: found.slot, sure: found.told === "name" };
  const bearing = mayImply ? undefined : bearingAt(tokens);
  return bearing === undefined ? undefined : { target: bearing, sure: false };
}

const shares = new WeakMap<Word[], Map<string, number>>();

/** The share of a column's cells that a list of words knows. */
export function listShare(words: Word[], list: string): number {
  const known = shares.get(words) ?? new Map<string, number>();
  shares.set(words, known);
  const share = known.get(list) ?? knownShare(words, (text) => meaningOf(list, text) !== undefined);
  known.set(list, share);
  return share;
}

/** The share of cells whose word is known, of those that hold more than a mark for nothing. */
export function knownShare(words: Word[], known: (text: string) => boolean): number {
  const said = words.filter(({ text }) => !isBlankMark(text));
  const sum = (list: Word[]) => list.reduce((total, { count }) => total + count, 0);
  const all = sum(said);
  return all === 0 ? 0 : sum(said.filter(({ text }) => known(text))) / all;
}

export function isBlankMark(text: string): boolean {
  return BLANK_MARKS.has(text.trim().toLowerCase());
}
