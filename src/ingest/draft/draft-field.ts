import type { CanonicalField } from "../mapping/canonical-fields.ts";
import type { Unit } from "../mapping/units.ts";
import type { ColumnProfile } from "./column-profile.ts";
import type { DraftField, SourceEntry } from "./draft.ts";
import { fieldName } from "./draft.ts";
import { type DateVotes, guessDates } from "./guess-dates.ts";
import { guessUnit } from "./guess-unit.ts";
import { type DraftWord, guessWords } from "./guess-words.ts";
import type { Match } from "./match-columns.ts";
import type { Answers, Question } from "./opinion.ts";
import type { OwnSlot } from "./own-slots.ts";
import { columnName, countedAs, percent } from "./shown.ts";
import { meaningOf } from "./vocabulary.ts";

export type FieldContext = {
  rows: number;
  headerless: boolean;
  votes: DateVotes;
  answers: Answers;
  /** Slots that the draft may name. */
  slots: string[];
  /** Slots named after words that are not known, by the word. */
  own: ReadonlyMap<string, OwnSlot>;
  required: readonly string[];
  usualLength?: Unit;
  dateSystem?: 1900 | 1904;
};

/** A field as its column says it: how its text is read, what speaks for that, what is open. */
export function draftField(
  key: string,
  kind: CanonicalField,
  match: Match,
  context: FieldContext,
  slot?: string,
): DraftField {
  const { column } = match;
  const field = slot === undefined ? { key } : { key, slot };
  const read = readingOf(field, kind, column, context);
  const weak = weakness(field, match, context);
  const required: SourceEntry[] = isRequired(field, column, context) ? [["required", true]] : [];
  return {
    ...field,
    column,
    entries: [["column", columnKey(column)], ...read.entries, ...required, ...tidyOf(key, kind, column)],
    ...(read.words === undefined ? {} : { words: read.words }),
    evidence: [matchEvidence(match, context), read.evidence].filter((text) => text !== "").join("; "),
    questions: [...weak, ...read.questions],
    sure: weak.length === 0 && read.questions.length === 0,
  };
}

/** A header as names in pipelines are compared: line ends in it are blanks. */
function columnKey({ key }: ColumnProfile): string | number {
  return typeof key === "number" ? key : key.replace(/\s+/g, " ").trim();
}

type Read = Pick<DraftField, "entries" | "words" | "evidence" | "questions">;

function readingOf(
  field: Pick<DraftField, "key" | "slot">,
  kind: CanonicalField,
  column: ColumnProfile,
  context: FieldContext,
): Read {
  const name = fieldName(field);
  const { answers } = context;
  switch (kind.kind) {
    case "date": {
      const dates = guessDates(column, {
        field: name,
        votes: context.votes,
        answers,
        ...(context.dateSystem === undefined ? {} : { dateSystem: context.dateSystem }),
      });
      return { entries: [["dates", dates.value]], evidence: dates.evidence, questions: dates.questions };
    }
    case "number":
      return numberOf(field.key, name, kind, column, context);
    case "text":
    case "fleet":
      return { entries: [], ...(field.key === "cause" ? ownWords(column) : {}), evidence: "", questions: [] };
    case "words":
    case "yesno":
    case "slot": {
      const { slots, own } = context;
      const { words, questions } = guessWords(column, kind, { ...field, field: name, slots, own, answers });
      const blank: SourceEntry[] =
        field.key === "meter_changed" && column.filled < context.rows ? [["default", "no"]] : [];
      return { entries: blank, words, evidence: "", questions };
    }
  }
}

/** Words for what became of a unit are put into ours where all of them are known; else they stay as they are. */
function ownWords({ words, distinct }: ColumnProfile): Pick<DraftField, "words"> {
  const told = words.map(
    ({ text, count }): DraftWord => ({ text, count, target: meaningOf("cause", text)?.target, sure: true }),
  );
  const all = told.length > 0 && told.length === distinct && told.every(({ target }) => target !== undefined);
  return all ? { words: told } : {};
}

function numberOf(
  key: string,
  name: string,
  kind: CanonicalField & { kind: "number" },
  column: ColumnProfile,
  { answers, usualLength }: FieldContext,
): Read {
  const guess = guessUnit(kind, column.numbers, {
    key,
    field: name,
    header: column.header,
    name: columnName(column.header, column.place),
    answers,
    ...(usualLength === undefined || kind.dimension !== "length" ? {} : { usual: usualLength }),
  });
  const { unit, low, high } = guess.value;
  const entries: SourceEntry[] = [
    ...(unit === undefined ? [] : [["unit", unit] satisfies SourceEntry]),
    ...(low === undefined ? [] : [["low", low] satisfies SourceEntry]),
    ...(high === undefined ? [] : [["high", high] satisfies SourceEntry]),
  ];
  const own =
    column.numbers.withUnit > 0
      ? `; ${countedAs(column.numbers.withUnit, "cell", "has a unit of its own", "have a unit of their own")}`
      : "";
  return { entries, evidence: `${guess.evidence}${own}`, questions: guess.questions };
}

/** A removal without its day is a card that can't be placed; where nearly all have it, one without is wrong. */
function isRequired(
  { key, slot }: Pick<DraftField, "key" | "slot">,
  { filled }: ColumnProfile,
  { required, rows }: FieldContext,
): boolean {
  if (slot !== undefined) return false;
  const isCard = required.includes("unit");
  return required.includes(key) || (isCard && (key === "slot" || (key === "removed_on" && filled >= 0.9 * rows)));
}

const NAMES = new Set(["card", "unit", "position", "fitter"]);

/** Names written in capitals are the same in small letters. */
function tidyOf(key: string, kind: CanonicalField, { upper, lettered }: ColumnProfile): SourceEntry[] {
  const isName = kind.kind === "text" && NAMES.has(key);
  return isName && lettered > 0 && upper >= 0.9 * lettered ? [["tidy", ["upper"]]] : [];
}

function matchEvidence({ column, header, content }: Match, { rows, headerless }: FieldContext): string {
  const by = headerless
    ? "by its cells and place"
    : header >= 1.8
      ? content >= 1.5
        ? "by header and cells"
        : "by header"
      : "by its cells, not its header";
  return `${by}; ${percent(column.filled, rows)} filled, ${column.distinct} different`;
}

const LITTLE = "its header says little";
const NEAR = "another column or field fits nearly as well";

/** A match with little to speak for it, or with another nearly as good. */
function weakness(
  field: Pick<DraftField, "key" | "slot">,
  { column, header, margin, why: said }: Match,
  { headerless, rows, required }: FieldContext,
): Question[] {
  const name = fieldName(field);
  if (!headerless && header >= 2.2 && margin >= 0.75) return [];
  const why = said ?? (headerless ? "the file has no header" : header < 2.2 ? LITTLE : NEAR);
  const text = `${columnName(column.header, column.place)} is taken for ${name}: ${why}`;
  const options = required.includes(field.key) ? [] : ["yes", "no"];
  return [{ id: `${name}.column`, text, options, cells: rows }];
}
