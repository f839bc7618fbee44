import type { CanonicalField } from "../mapping/canonical-fields.ts";
import { normalWord } from "../mapping/word-sql.ts";
import type { ColumnProfile, Word } from "./column-profile.ts";
import { type Answers, answerOf, type Question } from "./opinion.ts";
import type { OwnSlot } from "./own-slots.ts";
import { columnName, counted, shown } from "./shown.ts";
import { isBlankMark, listOf, type Meaning, meaningOf, slotMeaning } from "./vocabulary.ts";

/** An owner's word in a draft. `target` null: means nothing recorded; undefined: it could not be told. */
export type DraftWord = { text: string; count: number; target: string | null | undefined; sure: boolean };

export type WordContext = {
  key: string;
  /** As questions name it: "drive_end_bearings.condition". */
  field: string;
  slot?: string;
  /** Slots that the draft may name. */
  slots: string[];
  /** Those named after words that are not known, by the word. */
  own: ReadonlyMap<string, OwnSlot>;
  answers: Answers;
};

export type GuessedWords = { words: DraftWord[]; questions: Question[] };

const NOTHING = "nothing recorded";
const LEFT_OPEN = "leave open";

/** What each word of a column stands for, of those that are looked at; each that can't be told is a question. */
export function guessWords(column: ColumnProfile, kind: CanonicalField, context: WordContext): GuessedWords {
  const targets = targetsOf(kind, context);
  const known = column.words.filter(({ text }) => !isBlankMark(text));
  const words = column.words.map((word) =>
    ownSlot(word.text, context) === undefined
      ? answered(guessed(word, known, context), targets, context)
      : ownWord(word, targets, context),
  );
  const name = columnName(column.header, column.place);
  const questions = words.flatMap((word): Question[] => (word.sure ? [] : [questionOf(word, name, targets, context)]));
  return { words, questions: [...questions, ...notListed(column, name, context)] };
}

function targetsOf(kind: CanonicalField, { slots, own }: WordContext): string[] {
  if (kind.kind === "words") return [...kind.words];
  return kind.kind === "slot" ? [...slots, ...[...own.values()].map(({ name }) => name)] : ["yes", "no"];
}

function guessed({ text, count }: Word, known: Word[], context: WordContext): DraftWord {
  if (isBlankMark(text)) return blankWord(text, count, known, context);
  const meaning = toldBy(text, context);
  if (meaning === undefined) return { text, count, target: undefined, sure: false };
  return { text, count, target: meaning.target, sure: meaning.sure };
}

function ownSlot(text: string, { key, own }: WordContext): OwnSlot | undefined {
  return key === "slot" || key === "failed_slot" ? own.get(normalWord(text)) : undefined;
}

/** A slot by its own word: asked where rows name their slot, and meant alike where they name what failed. */
function ownWord({ text, count }: Word, targets: string[], context: WordContext): DraftWord {
  const target = ownSlot(text, context)?.name;
  const word = answered({ text, count, target, sure: false }, targets, { ...context, field: "slot" });
  return context.key === "slot" || word.target === undefined ? word : { ...word, sure: true };
}

function toldBy(text: string, { key, slot, slots }: WordContext): Meaning | undefined {
  if (key !== "slot" && key !== "failed_slot") return meaningOf(listOf(key, slot), text);
  const meaning = slotMeaning(text);
  return meaning !== undefined && slots.includes(meaning.target) ? meaning : undefined;
}

/** A mark for nothing: an unknown reason; beside a word for yes alone, no; else nothing. */
function blankWord(text: string, count: number, known: Word[], { key, slot }: WordContext): DraftWord {
  if (key === "reason") return { text, count, target: "unknown", sure: true };
  const isYesNo = key === "fitted" || key === "meter_changed";
  const means = known.map((word) => meaningOf(listOf(key, slot), word.text)?.target);
  if (isYesNo && means.includes("yes") && !means.includes("no")) return { text, count, target: "no", sure: false };
  return { text, count, target: null, sure: true };
}

/** The id of the question of what a word of a field means; slots share their words, and so their answers. */
export function wordQuestionId(field: string, text: string): string {
  const [slot = "", attribute] = field.split(".");
  const shared = attribute === undefined ? field : listOf(attribute, slot);
  return `${shared}.words.${normalWord(text)}`;
}

function answered(word: DraftWord, targets: string[], context: WordContext): DraftWord {
  const answer = answerOf(context.answers, wordQuestionId(context.field, word.text));
  if (answer === undefined) return word;
  if (answer === LEFT_OPEN) return { ...word, target: undefined, sure: false };
  if (answer === NOTHING) return { ...word, target: null, sure: true };
  return targets.includes(answer) ? { ...word, target: answer, sure: true } : word;
}

function questionOf(
  { text, count, target }: DraftWord,
  name: string,
  targets: string[],
  context: WordContext,
): Question {
  const id = wordQuestionId(context.field, text);
  if (target === undefined) {
    const words = `${shown(text)} in ${name} (${counted(count, "cell")}) could not be told; until it is listed, those cells are refused and counted`;
    return { id, text: words, options: [LEFT_OPEN, ...targets, NOTHING], cells: count };
  }
  const others = targets.filter((each) => each !== target);
  const own = ownSlot(text, context);
  if (own !== undefined && own.name === target) {
    const words = `${shown(text)} in ${name} (${counted(count, "cell")}) names no slot that is known here; it is taken for a slot of its own, ${target}`;
    return { id, text: words, options: [target, ...others, LEFT_OPEN, NOTHING], cells: count };
  }
  const says = `${shown(text)} in ${name} (${counted(count, "cell")}) is taken to mean ${target ?? NOTHING}`;
  return {
    id,
    text: says,
    options: [target ?? NOTHING, ...others, ...(target === null ? [] : [NOTHING])],
    cells: count,
  };
}

/** Free text has more words than a draft can list. */
function notListed(column: ColumnProfile, name: string, { field }: WordContext): Question[] {
  const listed = column.words.reduce((sum, { count }) => sum + count, 0);
  if (listed >= column.filled) return [];
  const cells = column.filled - listed;
  return [
    {
      id: `${field}.more`,
      text: `${counted(cells, "more cell")} of ${name} ${cells === 1 ? "holds a text" : "hold texts"} not listed here, refused and counted`,
      options: [],
      cells,
    },
  ];
}

/** The slots that the words of a reason name, where they do: what failed. Words of other reasons name none. */
export function slotsInReasons(reasons: DraftWord[], slots: string[]): DraftWord[] {
  const words = reasons.flatMap(({ text, count, target }): DraftWord[] => {
    if (target === undefined || target === null) return [];
    const meaning = target === "failure" ? slotMeaning(text, true) : undefined;
    const known = meaning !== undefined && slots.includes(meaning.target);
    return [{ text, count, target: known ? meaning.target : null, sure: true }];
  });
  return words.some(({ target }) => target !== null) ? words : [];
}
