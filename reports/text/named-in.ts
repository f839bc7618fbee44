import type { EntryKind } from "../../src/report/entry-names.ts";

/** A stretch of a text: with what it names, or plain. */
export type Stretch = { text: string; names: { kind: EntryKind; id: string } | null };

const WORD = /[\p{L}\p{N}]/u;
/** A name that is a number, or has none in it, may as well be a figure or a word of the sentence. */
const TELLING = /^(?=.*\d)(?=.*[^\d.,\s])/s;

/** Where a text names some of these: whole words only, the longest name first, so that "P-1" is not found in "P-10". */
export function namedIn(text: string, known: { kind: EntryKind; id: string }[]): Stretch[] {
  const names = known.filter(({ id }) => TELLING.test(id)).toSorted((one, other) => other.id.length - one.id.length);
  const stretches: Stretch[] = [];
  let plainFrom = 0;
  let at = 0;
  while (at < text.length) {
    const found = names.find(({ id }) => text.startsWith(id, at) && standsAlone(text, at, at + id.length));
    if (found === undefined) {
      at++;
      continue;
    }
    if (at > plainFrom) stretches.push({ text: text.slice(plainFrom, at), names: null });
    stretches.push({ text: found.id, names: found });
    at += found.id.length;
    plainFrom = at;
  }
  if (plainFrom < text.length) stretches.push({ text: text.slice(plainFrom), names: null });
  return stretches;
}

function standsAlone(text: string, from: number, to: number): boolean {
  return !isWord(text[from - 1]) && !isWord(text[to]);
}

function isWord(mark: string | undefined): boolean {
  return mark !== undefined && (WORD.test(mark) || mark === "-" || mark === "_");
}
