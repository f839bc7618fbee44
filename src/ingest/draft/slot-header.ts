import { bestScore, type Phrase, parsePhrase, phraseScore } from "./tokens.ts";
import { FIELD_WORDS } from "./words/field-words.ts";
import { ENDS, ENDS_ALONE, ENDS_BY_SIDE, IMPLIED, KINDS, OTHER_ENDS } from "./words/slot-words.ts";

type End = keyof typeof ENDS;
type Kind = keyof typeof KINDS;

const ends = phrasesOf(ENDS);
const kinds = phrasesOf(KINDS);
const implied = phrasesOf(IMPLIED);
const bySide = parsePhrase(ENDS_BY_SIDE.replaceAll(" ", "|"));
const someEnd = parsePhrase(OTHER_ENDS);
const alone = parsePhrase(ENDS_ALONE);
const aloneWords = new Set([...ENDS_ALONE.split(/[|+]/), "end"]);
/** A phrase of one word of which nothing is left over. */
const ALL_SAID = 4;
const attributes = new Map(
  Object.entries(FIELD_WORDS.slot).map(([key, { words, never }]) => [
    key,
    {
      phrases: words.map(parsePhrase),
      never: (never ?? "")
        .split(" ")
        .filter((word) => word !== "")
        .map(parsePhrase),
    },
  ]),
);

function phrasesOf<Key extends string>(words: Record<Key, string>): [Key, Phrase][] {
  return (Object.entries(words) as [Key, string][]).map(([key, text]) => [key, parsePhrase(text)]);
}

/** A slot that a text names: by its name, by a side or function in place of an end, or by an end alone. */
export type NamedSlot = { slot: string; told: "name" | "side" | "end" };

/** The slot that a text names, if it names one. */
export function slotOf(tokens: string[], mayImply = false): NamedSlot | undefined {
  const kind = named(kinds, tokens) ?? (mayImply ? named(implied, tokens) : undefined);
  if (kind === undefined) return undefined;
  const end = endOf(tokens);
  const isSide = phraseScore(end === undefined ? someEnd : bySide, tokens) > 0;
  return { slot: slotName(kind, end), told: isSide ? "side" : "name" };
}

/** Whether a text is the name of a kind of component, and says nothing of which one. */
export function isKindAlone(tokens: string[]): boolean {
  return tokens.length === 1 && named(kinds, tokens) !== undefined;
}

/** The slot that an end alone ("DE", "non drive end") stands for in a column that names slots: its bearing, which is to be confirmed. */
export function bearingAt(tokens: string[]): string | undefined {
  const end = endOf(tokens);
  return end === undefined ? undefined : slotName("bearing", end);
}

function named<Key>(phrases: [Key, Phrase][], tokens: string[]): Key | undefined {
  // The last match: a sleeve of a seal is a sleeve, a "shaft seal" a seal.
  return phrases.findLast(([, phrase]) => phraseScore(phrase, tokens) > 0)?.[0];
}

/** "Pump" in "pump drive end" says which machine: the drive's word goes before. */
function endOf(tokens: string[]): End | undefined {
  return ends.find(([, phrase]) => phraseScore(phrase, tokens) > 0 && !isNonDrive(phrase, tokens))?.[0];
}

const nonDrive = parsePhrase("non+drive|nde");

function isNonDrive(phrase: Phrase, tokens: string[]): boolean {
  return phrase === ends[0]?.[1] && phraseScore(nonDrive, tokens) > 0;
}

function slotName(kind: Kind, end: End | undefined): string {
  if (kind === "sleeve") return "shaft_sleeve";
  if (end === undefined) return `${kind}s`;
  if (kind === "seal") return `${end}_end_seals`;
  return end === "drive" ? "drive_end_bearings" : "pump_end_bearing";
}

export type SlotHeader = NamedSlot & { attribute: string; score: number };

/** A header of a slot's own column: it names the slot and what of it. */
export function slotHeader(tokens: string[]): SlotHeader | undefined {
  const found = slotOf(tokens);
  if (found === undefined) return endHeader(tokens);
  const best = attributeOf(tokens);
  return best.score === 0 ? undefined : { ...found, ...best };
}

/** A header of an end and of what was found or done there, and of nothing else. */
function endHeader(tokens: string[]): SlotHeader | undefined {
  const { slot, rest } = endAlone(tokens);
  if (slot === undefined) return undefined;
  const best = attributeOf(rest);
  return best.score < ALL_SAID ? undefined : { slot, told: "end", ...best };
}

/** The bearing at an end that is named alone, and the words beside. */
export function endAlone(tokens: string[]): { slot: string | undefined; rest: string[] } {
  const isNamed = phraseScore(alone, tokens) > 0;
  return {
    slot: isNamed ? bearingAt(tokens) : undefined,
    rest: tokens.filter((token) => !aloneWords.has(token)),
  };
}

/** What of a slot words tell. */
function attributeOf(tokens: string[]): { attribute: string; score: number } {
  const scored = [...attributes].map(([attribute, { phrases, never }]) => ({
    attribute,
    score: never.some((phrase) => phraseScore(phrase, tokens) > 0) ? 0 : bestScore(phrases, tokens),
  }));
  return scored.reduce((most, each) => (each.score > most.score ? each : most), { attribute: "", score: 0 });
}
