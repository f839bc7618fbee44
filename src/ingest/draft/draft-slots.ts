import { SLOT_FIELDS } from "../mapping/canonical-fields.ts";
import { normalWord } from "../mapping/word-sql.ts";
import type { Word } from "./column-profile.ts";
import { type DraftField, fieldName } from "./draft.ts";
import { draftField, type FieldContext } from "./draft-field.ts";
import { fittedByPart } from "./fitted-by-part.ts";
import { type DraftWord, wordQuestionId } from "./guess-words.ts";
import type { Matched, SlotMatch } from "./match-columns.ts";
import { answerOf, type Question } from "./opinion.ts";
import { columnName } from "./shown.ts";
import { listOf } from "./vocabulary.ts";
import { WHOLE_FRAME } from "./words/slot-words.ts";

/** The columns of each slot as fields; words that one slot's column has count for all. */
export function slotFields(slots: SlotMatch[], context: FieldContext): DraftField[] {
  const asked = new Set<string>();
  const taken = slots.filter(
    ({ slot }) => context.slots.includes(slot) && answerOf(context.answers, `${slot}.slot`) !== "no",
  );
  const fields = taken.map((match) => {
    const { slot, attribute, told } = match;
    const alike = taken.filter((other) => listOf(other.attribute, other.slot) === listOf(attribute, slot));
    const column = { ...match.column, words: joined(alike.map((other) => other.column.words)) };
    const drafted = draftField(
      attribute,
      SLOT_FIELDS[attribute]!,
      { ...match, column, header: Math.max(match.header, 2.2) },
      context,
      slot,
    );
    const field = { ...withOwnWords(drafted, match.column.words), column: match.column };
    field.questions = field.questions.filter(({ id }) => !asked.has(id));
    for (const { id } of field.questions) asked.add(id);
    if (told === "name" || asked.has(slot)) return field;
    asked.add(slot);
    return { ...field, questions: [sideQuestion(match, context), ...field.questions], sure: false };
  });
  return [...fields, ...fittedUnsaid(fields)];
}

function sideQuestion({ slot, column, told }: SlotMatch, { rows }: FieldContext): Question {
  const why =
    told === "side" ? "names a side or function, not drive or pump end" : "names an end, not what stands there";
  const text = `${columnName(column.header, column.place)} and its like are taken for ${slot}: the header ${why}`;
  return { id: `${slot}.slot`, text, options: ["yes", "no"], cells: rows };
}

/** Of other slots' words, those that are told: what can't be told is asked where it stands. */
function withOwnWords(field: DraftField, own: Word[]): DraftField {
  const isOwn = (text: string) => own.some((word) => normalWord(word.text) === normalWord(text));
  const words = (field.words ?? []).filter(({ text, target }) => target !== undefined || isOwn(text));
  const others = (field.words ?? [])
    .filter(({ text }) => !isOwn(text))
    .map(({ text }) => wordQuestionId(fieldName(field), text));
  const questions = field.questions.filter(({ id }) => !others.includes(id));
  return { ...field, ...(field.words === undefined ? {} : { words }), questions };
}

/** A word that stands in the column of one slot may stand in another's tomorrow. */
function joined(lists: Word[][]): Word[] {
  const words = new Map<string, Word>();
  for (const { text, count } of lists.flat()) {
    const key = normalWord(text);
    const known = words.get(key);
    words.set(key, { text: known?.text ?? text, count: (known?.count ?? 0) + count });
  }
  return [...words.values()].sort((a, b) => b.count - a.count);
}

/** A frame that is open gets new bearings and seals: where no column says so, every card is taken to renew what it speaks of. */
function fittedUnsaid(fields: DraftField[]): DraftField[] {
  const slots = [...new Set(fields.map(({ slot }) => slot))];
  const without = slots.filter((slot) => !fields.some((field) => field.slot === slot && field.key === "fitted"));
  return without.map((slot) => {
    const part = fields.find((field) => field.slot === slot && field.key === "part");
    return (part && fittedByPart(part)) ?? alwaysFitted(slot);
  });
}

/** A slot of which no column says that it was renewed. */
export function alwaysFitted(slot: string | undefined): DraftField {
  const text = `no column says whether ${slot === undefined ? "the component" : slot} was renewed; every card is taken to renew it`;
  const question: Question = { id: `${slot ?? "slot"}.fitted`, text, options: [], cells: 0 };
  const field: DraftField = {
    key: "fitted",
    entries: [["value", "yes"]],
    evidence: "no column of its own",
    questions: [question],
    sure: false,
  };
  return slot === undefined ? field : { ...field, slot };
}

/** Cards without columns of slots: those that a column names as failed are renewed each time; else the frame as a whole, failed where the reason says so. */
export function wholeFrame(matched: Matched, own: DraftField[], slots: string[] | undefined): DraftField[] {
  const mayName = slots === undefined || slots.includes(WHOLE_FRAME);
  if (matched.record !== "rebuild" || matched.layout !== "wide" || matched.slots.length > 0 || !mayName) return [];
  const text =
    "no column says what was found or renewed per slot: each card counts as a rebuild of the frame as a whole, failed where the reason is failure";
  const fitted: DraftField = {
    key: "fitted",
    slot: WHOLE_FRAME,
    entries: [["value", "yes"]],
    evidence: "no column of its own",
    questions: [{ id: "frame.slot", text, options: [], cells: 0 }],
    sure: false,
  };
  const reason = own.find(({ key }) => key === "reason");
  if (reason?.column === undefined || reason.words === undefined) return [fitted];
  const words = reason.words.flatMap((word): DraftWord[] => {
    const target =
      word.target === "failure" ? "failed" : word.target === "unknown" || word.target === null ? null : "serviceable";
    return word.target === undefined ? [] : [{ ...word, target, sure: true }];
  });
  const entries = reason.entries.filter(([key]) => key === "column");
  const condition: DraftField = {
    key: "condition",
    slot: WHOLE_FRAME,
    column: reason.column,
    entries,
    words,
    evidence: "by the reason",
    questions: [],
    sure: true,
  };
  return [fitted, condition];
}
