import { fieldsOf } from "../mapping/canonical-fields.ts";
import { normalWord } from "../mapping/word-sql.ts";
import type { ColumnProfile, Word } from "./column-profile.ts";
import { type DraftField, fieldName } from "./draft.ts";
import type { Matched } from "./match-columns.ts";
import type { Question } from "./opinion.ts";
import { counted, shown } from "./shown.ts";
import { isBlankMark } from "./vocabulary.ts";

/** Marks for nothing among numbers and days, which a pipeline lists as blanks; not those that mean something in another column. */
export function guessBlanks(
  matched: Matched,
  fields: DraftField[],
  values: ColumnProfile[],
): { blank: Word[]; questions: Question[] } {
  const kinds = fieldsOf(matched);
  const columns = fields.flatMap(({ key, slot, column }) => {
    const kind = slot === undefined ? kinds[key]?.kind : undefined;
    return column !== undefined && (kind === "number" || kind === "date") ? [column] : [];
  });
  const marks = new Map<string, Word>();
  for (const { text, count } of [...columns, ...values].flatMap(({ words }) => words)) {
    if (!isBlankMark(text)) continue;
    const known = marks.get(normalWord(text));
    marks.set(normalWord(text), { text: known?.text ?? text, count: (known?.count ?? 0) + count });
  }
  const found = [...marks.values()].map((word) => ({ ...word, means: meaningIn(fields, word.text) }));
  return {
    blank: found.flatMap(({ text, count, means }) => (means === undefined ? [{ text, count }] : [])),
    questions: found.flatMap(({ text, count, means }): Question[] => {
      if (means === undefined) return [];
      const words = `${shown(text)} stands in ${counted(count, "cell")} of numbers or days, and means ${means}: those cells are refused and counted unless it is listed under "blank" and taken from the words`;
      return [{ id: `blank.${normalWord(text)}`, text: words, options: [], cells: count }];
    }),
  };
}

function meaningIn(fields: DraftField[], mark: string): string | undefined {
  for (const field of fields) {
    const word = field.words?.find(({ text }) => normalWord(text) === normalWord(mark));
    if (word?.target !== undefined && word.target !== null) return `${word.target} under ${fieldName(field)}`;
  }
  return undefined;
}
