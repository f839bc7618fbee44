import type { DraftField } from "./draft.ts";
import { saysFitted } from "./parts-fitted.ts";
import { columnName } from "./shown.ts";
import { isBlankMark } from "./vocabulary.ts";

/** More names of parts than these can't be listed one by one. */
const MOST_PARTS = 100;

/** What a column of the parts that were fitted says of the fitting: a part is one, a blank is none. */
export function fittedByPart({ column, entries, slot }: DraftField): DraftField | undefined {
  if (column === undefined || !saysFitted(column) || column.distinct > MOST_PARTS) return undefined;
  const text = `a part in ${columnName(column.header, column.place)} is taken to be renewed, a blank to be kept; a part that is not listed is refused and counted`;
  const words = column.words.map(({ text: part, count }) => ({
    text: part,
    count,
    target: isBlankMark(part) ? "no" : "yes",
    sure: true,
  }));
  return {
    key: "fitted",
    ...(slot === undefined ? {} : { slot }),
    column,
    entries: [...entries.filter(([key]) => key === "column"), ["default", "no"]],
    words,
    evidence: "by the parts that stand there",
    questions: [{ id: `${slot ?? "slot"}.fitted`, text, options: [], cells: column.filled }],
    sure: false,
  };
}
