const UMLAUTS: Record<string, string> = { ä: "ae", ö: "oe", ü: "ue", ß: "ss", æ: "ae", ø: "oe" };

/** A text as words are compared: no case, umlauts written out, no other marks on letters. */
function folded(text: string): string {
  return text
    .normalize("NFC")
    .toLowerCase()
    .replace(/[äöüßæø]/g, (letter) => UMLAUTS[letter] ?? letter)
    .normalize("NFD")
    .replace(/\p{M}/gu, "");
}

/** The words of a header or cell: split where letters and digits end, and where a capital follows a small letter. */
export function tokensOf(text: string): string[] {
  return folded(text.replace(/(\p{Ll})(\p{Lu})/gu, "$1 $2")).match(/[\p{L}\p{N}]+/gu) ?? [];
}

/** Words that say nothing of what a column holds. */
const FILLERS: ReadonlySet<string> = new Set(
  "nº a am an and are as at bei beim by der die das dem den des for id im in is it no nr num number nummer numero du la le les au aux of on or the to um und vom von was were when with zu zum".split(
    " ",
  ),
);

/**
 * A phrase of a dictionary: groups divided by blanks, each of alternatives divided by `|`, each of words joined by `+`. All groups must be
 * there, in any order. `rust*` is the beginning of a word, `*lager` its end, `*lager*` any part. A weight may follow `^`.
 */
export type Phrase = { groups: string[][][]; weight: number };

/** @example parsePhrase("meter|hours out|taken+off^4") */
export function parsePhrase(text: string): Phrase {
  const [words = "", weight] = text.split("^");
  const groups = words.split(" ").map((group) => group.split("|").map((words) => words.split("+")));
  return { groups, weight: weight === undefined ? 2.5 + 1.5 * groups.length : Number(weight) };
}

/** Words of a cell that say nothing; "no" and "in" do there. */
export const CELL_FILLERS: ReadonlySet<string> = new Set("the of and und der die das an am for fuer".split(" "));

/**
 * How well a phrase says what a text says: its weight, less for words of the text that it does not explain; 0 where it is not all there.
 */
export function phraseScore(
  { groups, weight }: Phrase,
  tokens: string[],
  fillers: ReadonlySet<string> = FILLERS,
): number {
  const explained = new Set<number>();
  for (const group of groups) {
    const found = group.map((words) => placesOf(words, tokens)).find((places) => places !== undefined);
    if (found === undefined) return 0;
    for (const place of found) explained.add(place);
  }
  const others = tokens.filter((token, place) => !explained.has(place) && !fillers.has(token) && !/^\d+$/.test(token));
  return (weight * (explained.size + 1)) / (explained.size + 1 + 0.6 * others.length);
}

/** The best score of several phrases. */
export function bestScore(phrases: Phrase[], tokens: string[], fillers?: ReadonlySet<string>): number {
  return Math.max(0, ...phrases.map((phrase) => phraseScore(phrase, tokens, fillers)));
}

/** Where all of these words stand; none where one is missing. */
function placesOf(words: string[], tokens: string[]): number[] | undefined {
  const places = words.map((word) => tokens.findIndex((token) => isLike(token, word)));
  return places.includes(-1) ? undefined : places;
}

function isLike(token: string, pattern: string): boolean {
  const core = pattern.replace(/^\*|\*$/g, "");
  const [before, after] = [pattern.startsWith("*"), pattern.endsWith("*")];
  if (before && after) return token.includes(core);
  if (after) return token.startsWith(core);
  return before ? token.endsWith(core) : token === core;
}
