import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../../errors.ts";
import { columns } from "../../store/columns.ts";
import { sourceColumn } from "../export/csv-source.ts";
import type { Reading } from "../export/reading.ts";
import {
  CANONICAL_FIELDS,
  CARD_DATES,
  DATES_IN_ORDER,
  fieldsOf,
  type RecordKind,
  requiredOf,
} from "../mapping/canonical-fields.ts";
import type { Unit } from "../mapping/units.ts";
import { rankKinds } from "./choose-kind.ts";
import type { ColumnProfile, TableProfile } from "./column-profile.ts";
import { dateShare } from "./content-score.ts";
import { dateOrder, daySql, ranksOf } from "./date-order.ts";
import type { Draft, DraftField } from "./draft.ts";
import { draftField, type FieldContext } from "./draft-field.ts";
import { draftMeasures } from "./draft-measures.ts";
import { alwaysFitted, slotFields, wholeFrame } from "./draft-slots.ts";
import { withFallingHours } from "./falling-hours.ts";
import { fittedByPart } from "./fitted-by-part.ts";
import { guessBlanks } from "./guess-blanks.ts";
import { dateVotes, guessDates } from "./guess-dates.ts";
import { type FleetContext, guessFleet } from "./guess-fleet.ts";
import { guessMarks } from "./guess-marks.ts";
import { slotsInReasons } from "./guess-words.ts";
import { withLikeliestUnit } from "./likeliest-unit.ts";
import type { DateRanks, Matched } from "./match-columns.ts";
import { type Answers, answerOf, type Question } from "./opinion.ts";
import { type Overlap, overlapOf } from "./overlapping-files.ts";
import { ownSlots } from "./own-slots.ts";
import { keepingRows } from "./rows-of-cards.ts";
import { counted, exportWords, shown } from "./shown.ts";
import { slotMeaning } from "./vocabulary.ts";
import { SLOT_TITLES, WHOLE_FRAME } from "./words/slot-words.ts";

export type DraftRequest = {
  name: string;
  /** As the pipeline is to name them, in the order in which they are read. */
  files: string[];
  sheets?: string[];
  reading: Reading;
  evidence: string[];
  fleet: FleetContext;
  /** Slots of the workspace that it is for; all that are known here where it is yet to be made. */
  slots?: string[];
  answers: Answers;
  record?: RecordKind;
  dateSystem?: 1900 | 1904;
};

/**
 * A pipeline guessed from the table `cells` and its profile.
 * @throws UserError if the table is of no record kind
 */
export async function draftPipeline(
  connection: DuckDBConnection,
  table: TableProfile,
  request: DraftRequest,
): Promise<Draft> {
  const ranks = await dateRanks(connection, table, request.answers);
  const ranked = rankKinds(
    table,
    ranks,
    request.sheets?.[0] ?? request.files[0] ?? "",
    request.record ?? chosenKind(request.answers),
  );
  const matched = withLikeliestUnit(
    await keepingRows(connection, table, ranked, exportWords(request.files, request.sheets)),
    table,
  );
  dropRefused(matched, request.answers);
  refuseUnknown(matched, table, request);
  const context = contextOf(matched, table, request);
  const fleet = guessFleet(matched.fields.get("fleet"), table.rows, request.fleet);
  const marks = guessMarks(table.columns);
  const own = await withFallingHours(connection, ownFields(matched, context), marks.value, request.answers);
  const slotted = [...slotFields(matched.slots, context), ...wholeFrame(matched, own, request.slots)];
  const measures = await draftMeasures(connection, table, matched, { answers: request.answers });
  const composed = composedCard(matched);
  const fleetField = "fleet" in CANONICAL_FIELDS[matched.record] ? [fleet.field] : [];
  const byReason = matched.slots.length > 0 || matched.layout === "long" ? failedByReason(own, context) : [];
  const fields = inOrder([...own, ...fleetField, ...composed, ...byReason], matched);
  const used = new Set([...fields, ...slotted].map(({ column }) => column));
  const firstColumn = table.columns[0]?.key ?? 1;
  const blanks = guessBlanks(matched, [...fields, ...slotted], measures.columns);
  const overlapping = await overlap(connection, table, matched, request);
  const unmatched = table.columns.filter((column) => !used.has(column) && !measures.columns.includes(column));
  return {
    name: request.name,
    title: matched.layout === "measured" ? "Measured values" : TITLES[matched.record],
    record: matched.record,
    layout: matched.layout,
    files: overlapping.files,
    ...(request.sheets === undefined ? {} : { sheets: request.sheets }),
    reading: request.reading,
    marks: marks.value,
    blank: blanks.blank,
    notData: table.scant,
    firstColumn,
    rows: table.rows,
    ...(table.sampled === undefined ? {} : { sampled: table.sampled }),
    evidence: [...request.evidence, marks.evidence, kindEvidence(matched)],
    fields: [...fields, ...slotted],
    measures: measures.measures,
    unmatched,
    questions: [
      ...marks.questions,
      ...blanks.questions,
      ...kindQuestion(ranked, request),
      ...(await orderQuestions(connection, fields)),
      ...overlapping.questions,
      ...listQuestions([...used], unmatched),
    ],
    fleets: fleet.fleets,
    ownSlots: [...context.own.values()],
    ...(await firstDay(connection, fields)),
  };
}

const TITLES: Record<RecordKind, string> = {
  rebuild: "Job cards",
  unit: "List of units",
  reading: "Meter readings",
  retirement: "Units out of use",
  stock: "Stock",
  part: "Parts",
  bearing: "Bearing data",
};

const KIND_WORDS: Record<string, string> = {
  "rebuild/wide": "one row a job card",
  "rebuild/long": "one row per job card and slot",
  "rebuild/measured": "one row per job card and measured value",
  unit: "a list of units",
  reading: "meter readings",
  retirement: "units taken out of use",
  stock: "stock",
  part: "parts",
  bearing: "bearing data",
};

function kindWords({ record, layout }: Matched): string {
  return KIND_WORDS[record === "rebuild" ? `${record}/${layout}` : record] ?? record;
}

function kindEvidence(matched: Matched): string {
  const columns = matched.fields.size + matched.slots.length;
  return `${kindWords(matched)}: ${columns === 1 ? "1 column is a field" : `${columns} columns are fields`} of that${matched.slots.length > 0 ? ", slots have columns of their own" : ""}${matched.layout === "long" ? ", rows name their slot" : ""}`;
}

function chosenKind(answers: Answers): RecordKind | undefined {
  const answer = answerOf(answers, "record");
  return (Object.keys(CANONICAL_FIELDS) as RecordKind[]).find((kind) => kind === answer);
}

function refuseUnknown(
  { record, layout, fields }: Matched,
  { columns }: TableProfile,
  { files, sheets, record: wanted }: DraftRequest,
): void {
  const missing = requiredOf({ record, layout }).filter((key) => key !== "fleet" && key !== "card" && !fields.has(key));
  const noDay = record === "rebuild" && layout !== "measured" && CARD_DATES.every((key) => !fields.has(key));
  const lacks = [...missing, ...(noDay ? ["a date"] : [])];
  if (lacks.length === 0) return;
  const headers = columns.map(({ header, place }) => (header === "" ? `column ${place}` : shown(header))).join(", ");
  const kind =
    wanted === undefined
      ? `nothing in it is known to make a record; the nearest kind, "${record}", lacks`
      : `as "${record}" it lacks`;
  const remedy =
    wanted === undefined
      ? `say what it is with --record, or export a column that ${missing.includes("unit") ? "names each row's unit" : "says that"}`
      : `export a column that ${missing.includes("unit") ? "names each row's unit" : "says that"}, with a title that does`;
  throw new UserError(
    `Cannot draft a pipeline for ${exportWords(files, sheets)}: ${kind} ${lacks.join(" and ")} among its columns ${headers}; ${remedy}, or write the pipeline by hand after "framelife init"`,
  );
}

/** A column that an answer says is not the field. */
function dropRefused({ fields }: Matched, answers: Answers): void {
  for (const key of [...fields.keys()]) if (answerOf(answers, `${key}.column`) === "no") fields.delete(key);
}

async function dateRanks(
  connection: DuckDBConnection,
  { columns: all }: TableProfile,
  answers: Answers,
): Promise<DateRanks> {
  const dates = all.filter((column) => dateShare(column) > 0.5).slice(0, 12);
  const votes = dateVotes(all);
  const patterns = dates.map((column) => ({
    place: column.place,
    patterns: guessDates(column, { field: "", votes, answers }).value,
  }));
  const ranks = ranksOf(await dateOrder(connection, patterns));
  return new Map(dates.map(({ place }, index) => [place, ranks[index]!]));
}

function contextOf(matched: Matched, table: TableProfile, request: DraftRequest): FieldContext {
  const usual = usualLength(matched, table, request);
  return {
    rows: table.sampled ?? table.rows,
    headerless: table.columns.every(({ header }) => header === ""),
    votes: dateVotes(table.columns),
    answers: request.answers,
    slots: slotsFor(matched, request.slots),
    own:
      request.slots === undefined && matched.layout === "long"
        ? ownSlots(matched.fields.get("slot")?.column)
        : new Map(),
    required: matched.layout === "long" ? [...requiredOf(matched), "slot"] : requiredOf(matched),
    ...(usual === undefined ? {} : { usualLength: usual }),
    ...(request.dateSystem === undefined ? {} : { dateSystem: request.dateSystem }),
  };
}

/** Shims and end play are written in the same unit unless something says otherwise. */
function usualLength({ fields }: Matched, table: TableProfile, { answers }: DraftRequest): Unit | undefined {
  const match = fields.get("end_play");
  const kind = CANONICAL_FIELDS.rebuild["end_play"];
  if (match === undefined || kind?.kind !== "number") return undefined;
  const context = {
    rows: table.rows,
    headerless: false,
    votes: { dayFirst: 0, monthFirst: 0 },
    answers,
    slots: [],
    own: new Map(),
    required: [],
  };
  const unit = draftField("end_play", kind, match, context).entries.find(([key]) => key === "unit")?.[1];
  return unit as Unit | undefined;
}

/** Slots that words may stand for: the workspace's, those of the columns, or all that rows name. */
function slotsFor(matched: Matched, known: string[] | undefined): string[] {
  const columns = [...new Set(matched.slots.map(({ slot }) => slot))];
  const named = ["slot", "failed_slot"].flatMap((key) =>
    (matched.fields.get(key)?.column.words ?? []).flatMap(({ text }) => slotMeaning(text)?.target ?? []),
  );
  const all = columns.length > 0 ? columns : named;
  return (known ?? Object.keys(SLOT_TITLES)).filter(
    (slot) => slot !== WHOLE_FRAME && (all.length === 0 || all.includes(slot)),
  );
}

function ownFields(matched: Matched, context: FieldContext): DraftField[] {
  const kinds = fieldsOf(matched);
  const said = [...matched.fields].flatMap(([key, match]) => {
    const kind = kinds[key];
    return kind === undefined || key === "fleet" ? [] : [draftField(key, kind, match, context)];
  });
  if (matched.layout !== "long" || matched.fields.has("fitted")) return said;
  const part = said.find(({ key }) => key === "part");
  return [...said, (part && fittedByPart(part)) ?? alwaysFitted(undefined)];
}

/** A card without a number is known by its unit and day. */
function composedCard({ record, fields }: Matched): DraftField[] {
  if (record !== "rebuild" || fields.has("card")) return [];
  const day = [...CARD_DATES, "installed_on"].find((key) => fields.has(key)) ?? "removed_on";
  return [
    {
      key: "card",
      entries: [["compose", ["unit", day]]],
      evidence: `no column of card numbers; a card is known by its unit and ${day}`,
      questions: [],
      sure: true,
    },
  ];
}

/** Where the reason's words name what failed, they tell that too. */
function failedByReason(own: DraftField[], { slots }: FieldContext): DraftField[] {
  const reason = own.find(({ key }) => key === "reason");
  if (reason?.column === undefined || reason.words === undefined || own.some(({ key }) => key === "failed_slot"))
    return [];
  const words = slotsInReasons(reason.words, slots);
  if (words.length === 0) return [];
  const column = reason.entries.filter(([key]) => key === "column");
  const told = words.filter(({ target }) => target !== null).length;
  const evidence = `${told} of the words for the reason name what failed`;
  return [{ key: "failed_slot", column: reason.column, entries: column, words, evidence, questions: [], sure: true }];
}

/** Lists inside records of which the first element alone is read. */
function listQuestions(used: (ColumnProfile | undefined)[], unmatched: ColumnProfile[]): Question[] {
  const listOf = ({ header }: ColumnProfile, at: RegExp) => at.exec(header)?.[1];
  const first = new Set(used.flatMap((column) => (column && listOf(column, /^(.*)\[0\]/)) ?? []));
  return [...first].flatMap((list): Question[] => {
    const left = unmatched.filter((column) => listOf(column, /^(.*)\[[1-9]\d*\]/) === list);
    if (left.length === 0) return [];
    const text = `of the list ${shown(list)} the first element of each record is read, and the others are not: export one row for each of its elements`;
    return [{ id: `list.${list}`, text, options: [], cells: Math.max(...left.map(({ filled }) => filled)) }];
  });
}

function inOrder(fields: DraftField[], matched: Matched): DraftField[] {
  const order = ["fleet", ...Object.keys(fieldsOf(matched))];
  return fields.toSorted((a, b) => order.indexOf(a.key) - order.indexOf(b.key));
}

function kindQuestion([first, second]: Matched[], { record, answers }: DraftRequest): Question[] {
  const decided = record !== undefined || answerOf(answers, "record") !== undefined;
  if (
    decided ||
    first === undefined ||
    second === undefined ||
    first.score - second.score > 4 ||
    first.record === second.record
  )
    return [];
  const text = `the rows are taken to be ${kindWords(first)}; they could be ${kindWords(second)}`;
  return [{ id: "record", text, options: [first.record, second.record], cells: Number.MAX_SAFE_INTEGER }];
}

/** The first day of the cards, a day years before all others left out as a slip. */
async function firstDay(connection: DuckDBConnection, fields: DraftField[]): Promise<{ firstDay?: string }> {
  const field = fields.find(({ key }) => key === "removed_on" || key === "received_on" || key === "built_on");
  const patterns = field?.entries.find(([name]) => name === "dates")?.[1];
  if (field?.column === undefined || !Array.isArray(patterns)) return {};
  const day = daySql(sourceColumn(field.column.place - 1), patterns.map(String));
  const { first } = await columns(
    connection,
    `with of as (select ${day} as day from cells), early as (select quantile_disc(day, 0.05) as early from of)
     select coalesce(min(day) filter (day > early - 1100)::varchar, '') as first from of, early`,
    { first: "text" },
  );
  return first[0] === undefined || first[0] === "" ? {} : { firstDay: first[0] };
}

/** Dates of cards that come in an order that can't be: the columns may be taken for each other. */
async function orderQuestions(connection: DuckDBConnection, fields: DraftField[]): Promise<Question[]> {
  const dates = DATES_IN_ORDER.flatMap((key) => {
    const field = fields.find((each) => each.key === key);
    const patterns = field?.entries.find(([name]) => name === "dates")?.[1];
    return field?.column === undefined || !Array.isArray(patterns)
      ? []
      : [{ key, place: field.column.place, patterns: patterns.map(String) }];
  });
  const order = await dateOrder(connection, dates);
  return dates.flatMap(({ key }, one) =>
    dates.slice(one + 1).flatMap((later, index): Question[] => {
      const { both, after } = order[one]![one + 1 + index]!;
      if (both < 5 || after * 10 < both) return [];
      const text = `in ${after} of ${counted(both, "row")} ${key} lies after ${later.key}; those rows will be set aside: are the two columns what they are taken for, and day and month in the right order?`;
      return [{ id: `order.${key}.${later.key}`, text, options: [], cells: after }];
    }),
  );
}

/** Several files of one kind of record: what stands in more than one, and their order. A workbook's sheets stand in theirs. */
async function overlap(
  connection: DuckDBConnection,
  { columns: { length: width }, scant }: TableProfile,
  { fields, record }: Matched,
  { files, sheets }: DraftRequest,
): Promise<Overlap> {
  const key = (fields.get("card") ?? (record === "unit" ? fields.get("unit") : undefined))?.column;
  if (files.length < 2 || key === undefined) return { files, questions: [] };
  const { questions, files: ordered } = await overlapOf(connection, key, { files, width, scant });
  return { questions, files: sheets === undefined ? ordered : files };
}
