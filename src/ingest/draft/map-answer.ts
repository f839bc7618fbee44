import { type Draft, fieldName, questionsOf } from "./draft.ts";
import type { Question } from "./opinion.ts";
import { columnList, columnName, counted } from "./shown.ts";

/** A guess as the answer lists it. */
type MapGuess = { field: string; column: string; evidence: string; sure: boolean };

/** What `map` found; text and JSON are made from it. */
export type MapAnswer = {
  schema: 1;
  command: "map";
  answer: string;
  guesses: MapGuess[];
  questions: Question[];
  unmatched: string[];
  pipeline: string;
};

const RECORDS: Record<string, string> = {
  "rebuild/wide": "job cards, one row a card",
  "rebuild/long": "job cards, one row per card and slot",
  "rebuild/measured": "measured values of job cards, one a row",
  unit: "a list of units",
  reading: "meter readings",
  retirement: "units taken out of use",
  stock: "a stock list",
  part: "a list of parts",
  bearing: "data of bearings",
};

/** What an export was taken for, in one sentence, with every guess and question. */
export function mapAnswer(draft: Draft, shownPath: string, pipeline: string): MapAnswer {
  const questions = questionsOf(draft);
  const own = draft.fields.flatMap(({ column, evidence, sure, ...field }): MapGuess[] =>
    column === undefined ? [] : [{ field: fieldName(field), column: plainName(column), evidence, sure }],
  );
  const measured = draft.measures.flatMap(({ field, text, evidence, questions: open }): MapGuess[] =>
    field === undefined ? [] : [{ field, column: text, evidence, sure: open.length === 0 }],
  );
  return {
    schema: 1,
    command: "map",
    answer: sentence(draft, shownPath, questions.length),
    guesses: [...own, ...measured],
    questions,
    unmatched: draft.unmatched.map(plainName),
    pipeline,
  };
}

function plainName({ header, place }: { header: string; place: number }): string {
  return header === "" ? columnName("", place) : header;
}

function sentence({ record, layout, fields, unmatched, rows }: Draft, shownPath: string, open: number): string {
  const columns = new Set(fields.flatMap(({ column }) => column?.place ?? [])).size;
  const kind = RECORDS[record === "rebuild" ? `${record}/${layout}` : record] ?? record;
  const left = unmatched.length === 0 ? "" : `, ${unmatched.length} not used (${columnList(unmatched)})`;
  const confirm =
    open === 0
      ? "nothing is left to confirm"
      : open === 1
        ? "1 thing is left to confirm"
        : `${open} things are left to confirm`;
  return `${shownPath} holds ${kind}: ${columns} of its ${columns + unmatched.length} columns are understood${left}, ${counted(rows, "row")}, and ${confirm}.`;
}
