import { normalWord } from "../mapping/word-sql.ts";
import type { ColumnProfile, Word } from "./column-profile.ts";
import { nameOf } from "./fleet-name.ts";
import { isKindAlone } from "./slot-header.ts";
import { tokensOf } from "./tokens.ts";
import { isBlankMark, slotMeaning } from "./vocabulary.ts";
import { SLOT_TITLES } from "./words/slot-words.ts";

/** A slot named after a word that no dictionary knows. */
export type OwnSlot = { name: string; title: string };

const MOST = 24;
/** Components stand on cards about as often as each other: a word so much rarer is a slip or a note. */
const RARER = 10;

/** Slots of a kind of component without an end. */
const ENDLESS = ["bearings", "seals"];

/** A word that nothing tells, or that tells a kind and something more where others of that kind stand beside it ("bearing 1"). */
function isOwn(text: string, words: Word[]): boolean {
  const meaning = slotMeaning(text)?.target;
  if (meaning === undefined) return true;
  if (!ENDLESS.includes(meaning) || isKindAlone(tokensOf(text))) return false;
  return words.some((other) => other.text !== text && slotMeaning(other.text)?.target === meaning);
}

/** A slot for each word of a column of components that is known by no other name, by the word as pipelines compare it. */
export function ownSlots(column: ColumnProfile | undefined): Map<string, OwnSlot> {
  const words = (column?.words ?? []).filter(({ text }) => !isBlankMark(text));
  const least = (words[0]?.count ?? 0) / RARER;
  const often = words.filter(({ count }) => count >= least);
  const unknown = often.filter(({ text }) => isOwn(text, often)).slice(0, MOST);
  const taken = new Set(Object.keys(SLOT_TITLES));
  const slots = new Map<string, OwnSlot>();
  for (const [index, { text }] of unknown.entries()) {
    const wanted = nameOf(text, `component-${index + 1}`).replaceAll("-", "_");
    let name = wanted;
    for (let turn = 2; taken.has(name); turn++) name = `${wanted}_${turn}`;
    taken.add(name);
    slots.set(normalWord(text), { name, title: text });
  }
  return slots;
}
