import type { Reading } from "../export/reading.ts";
import type { RecordKind } from "../mapping/canonical-fields.ts";
import type { ColumnProfile, Word } from "./column-profile.ts";
import type { Marks } from "./guess-marks.ts";
import type { DraftWord } from "./guess-words.ts";
import type { Layout } from "./match-columns.ts";
import type { Question } from "./opinion.ts";
import type { OwnSlot } from "./own-slots.ts";

/** Keys and values of a field as the pipeline says them. */
export type SourceEntry = [key: string, value: string | number | boolean | (string | number)[]];

/** A field of a draft, or a slot's. */
export type DraftField = {
  key: string;
  slot?: string;
  column?: ColumnProfile;
  entries: SourceEntry[];
  words?: DraftWord[];
  evidence: string;
  questions: Question[];
  /** Neither its column nor its reading leaves anything open. */
  sure: boolean;
};

/** What a word for a measured value fills; none: of no use here. */
export type DraftMeasure = {
  text: string;
  count: number;
  field?: string;
  entries: SourceEntry[];
  evidence: string;
  questions: Question[];
};

/** A fleet that rows are of. */
export type DraftFleet = { name: string; title: string };

/** A pipeline as guessed from one or more files of the same kind. */
export type Draft = {
  name: string;
  title: string;
  record: RecordKind;
  layout: Layout;
  files: string[];
  sheets?: string[];
  reading: Reading;
  marks: Marks;
  /** Marks for nothing among numbers and days. */
  blank: Word[];
  notData: Word[];
  firstColumn: string | number;
  rows: number;
  sampled?: number;
  /** What speaks for how the file is read and what its rows are. */
  evidence: string[];
  fields: DraftField[];
  measures: DraftMeasure[];
  unmatched: ColumnProfile[];
  /** Of the file as a whole. */
  questions: Question[];
  fleets: DraftFleet[];
  /** Slots named after words that are not known here. */
  ownSlots: OwnSlot[];
  /** First day of its cards, YYYY-MM-DD. */
  firstDay?: string;
};

/** All that a draft leaves open, what most hangs on first. */
export function questionsOf(draft: Draft): Question[] {
  const all = [
    ...draft.questions,
    ...draft.fields.flatMap(({ questions }) => questions),
    ...draft.measures.flatMap(({ questions }) => questions),
  ];
  return all.toSorted((a, b) => b.cells - a.cells);
}

/** A field by the name that messages and questions give it. */
export function fieldName({ key, slot }: Pick<DraftField, "key" | "slot">): string {
  return slot === undefined ? key : `${slot}.${key}`;
}
