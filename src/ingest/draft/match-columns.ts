import { CANONICAL_FIELDS, type CanonicalField, type RecordKind, SLOT_FIELDS } from "../mapping/canonical-fields.ts";
import { bestAssignment } from "./best-assignment.ts";
import type { ColumnProfile, TableProfile } from "./column-profile.ts";
import { contentScore, dateShare, NEVER, type Rows } from "./content-score.ts";
import { type HeaderTokens, headerScore, headerTokens, type Words } from "./header-words.ts";
import { atOtherEnd, withDoubt } from "./other-end.ts";
import { mayBeParts, saysFitted } from "./parts-fitted.ts";
import { endAlone, type NamedSlot, slotHeader, slotOf } from "./slot-header.ts";
import { isUnit, unitInHeader } from "./unit-in-header.ts";
import { knownShare, listOf, listShare } from "./vocabulary.ts";
import { SLOT_TITLES } from "./words/slot-words.ts";

export type Layout = "wide" | "long" | "measured";

/** A column taken for a field, by how much its header and its cells speak for it. */
export type Match = {
  column: ColumnProfile;
  header: number;
  content: number;
  /** How near another pair was. */
  margin: number;
  /** What speaks for it, and leaves it open. */
  why?: string;
};

export type SlotMatch = Match & NamedSlot & { attribute: string };

/** What a file is taken for, and which columns are which fields. */
export type Matched = {
  record: RecordKind;
  layout: Layout;
  fields: Map<string, Match>;
  slots: SlotMatch[];
  score: number;
};

const MEASURED_CARD = ["card", "fleet", "unit", "removed_on", "received_on", "built_on", "fitter", "remarks"];

type Wanted = { key: string; field: CanonicalField; words: Words };

function wantedFields(record: RecordKind, layout: Layout): Wanted[] {
  const own = Object.entries(CANONICAL_FIELDS[record]).map(([key, field]): Wanted => ({ key, field, words: record }));
  if (record !== "rebuild" || layout === "wide") return own;
  if (layout === "measured") {
    const measure: Wanted = { key: "measure", field: { kind: "text", column: "measure" }, words: "measured" };
    return [...own.filter(({ key }) => MEASURED_CARD.includes(key)), measure];
  }
  const slot: Wanted = { key: "slot", field: { kind: "slot", column: "slot" }, words: "long" };
  const attributes = Object.entries(SLOT_FIELDS).map(([key, field]): Wanted => ({ key, field, words: "slot" }));
  return [...own, slot, ...attributes];
}

/** Date columns by their places in the file, and which of them comes first in time. */
export type DateRanks = ReadonlyMap<number, number>;

/** The best assignment of the columns of a table to the fields of a record kind; without a header, by cells and order alone. */
export function matchColumns(table: TableProfile, record: RecordKind, layout: Layout, ranks: DateRanks): Matched {
  const slots = record === "rebuild" && layout === "wide" ? slotColumns(table.columns) : [];
  const unit = layout === "measured" ? unitColumn(table) : undefined;
  const free = table.columns.filter((column) => column !== unit && !slots.some((slot) => slot.column === column));
  const headerless = table.columns.every(({ header }) => header === "");
  const wanted = wantedFields(record, layout).filter(({ key }) => !headerless || !RARE.has(key));
  const pairs = free.map((column) => pairsOf(column, wanted, rowsOf(table, record, layout)));
  const scores = pairs.map((row) => row.map((pair) => worth(pair, headerless)));
  if (headerless) addPlaces(wanted, scores);
  if (record === "rebuild") {
    addOrder(free, wanted, scores, headerless ? headerlessOrder(ranks.size) : undefined, ranks);
  }
  const chosen = bestAssignment(scores);
  const fields = new Map<string, Match>();
  for (const [index, at] of chosen.entries()) {
    if (at < 0) continue;
    const { header, content } = pairs[index]![at]!;
    fields.set(wanted[at]!.key, { column: free[index]!, header, content, margin: marginOf(scores, index, at) });
  }
  if (layout === "long") addParts(fields, free);
  if (record === "rebuild") doubtStation(fields);
  return { record, layout, fields: bySize(fields), slots, score: total(scores, chosen, slots) };
}

/** Rows that name the part under "fitted" say what was renewed. */
function addParts(fields: Map<string, Match>, columns: ColumnProfile[]): void {
  const taken = new Set([...fields.values()].map(({ column }) => column));
  const column = columns.find((each) => !taken.has(each) && mayBeParts(each) && saysFitted(each));
  if (column === undefined || fields.has("part") || fields.has("fitted")) return;
  fields.set("part", { column, header: LEAST_HEADER, content: 0.5, margin: 0 });
}

/** A station may have one pump or many: with no column of positions, it may be either. */
function doubtStation(fields: Map<string, Match>): void {
  const match = fields.get("site");
  if (match === undefined || fields.has("position")) return;
  if (headerTokens(match.column.header).own.includes("station")) fields.set("site", { ...match, margin: 0 });
}

function rowsOf({ rows }: TableProfile, record: RecordKind, layout: Layout): Rows {
  const isList = record === "unit" || record === "retirement" || record === "part" || record === "bearing";
  return { count: rows, perUnit: isList ? "one" : "many", perCard: layout === "wide" ? "one" : "many" };
}

/** A bearing is larger outside than inside, and headers tell the two by a capital letter at best. */
function bySize(fields: Map<string, Match>): Map<string, Match> {
  const [bore, outside] = [fields.get("bore"), fields.get("outside_diameter")];
  if (bore === undefined || outside === undefined || bore.column.numbers.median <= outside.column.numbers.median)
    return fields;
  return new Map(fields).set("bore", outside).set("outside_diameter", bore);
}

/** "Pump end bearing fitted" names no pump. */
const PLACES = new Set(["unit", "position", "site"]);

type Pair = { header: number; content: number };

function pairsOf(column: ColumnProfile, wanted: Wanted[], rows: Rows): Pair[] {
  const tokens = headerTokens(column.header);
  const bare = withoutUnit(column, tokens);
  const ofSlot = slotHeader(tokens.whole) !== undefined;
  return wanted.map(({ key, field, words }) => ({
    header: ofSlot && PLACES.has(key) ? 0 : headerScore(words, key, field.kind === "number" ? bare : tokens),
    content: contentScore(key, field, column, rows),
  }));
}

/** The unit of a number says nothing of which number it is, unless nothing else stands there ("rpm"). */
function withoutUnit({ header }: ColumnProfile, whole: HeaderTokens): HeaderTokens {
  const unit = unitInHeader(header);
  const isNoun = unit?.unit === "h" && unit.written.length > 1; // "run hours" are hours, "run (h)" a time
  const bare = unit === undefined || isNoun ? whole : headerTokens(unit.rest);
  return bare.whole.length === 0 ? whole : bare;
}

const BY_CONTENT_ALONE = 2.4;
const LEAST_HEADER = 1.8;

function worth({ header, content }: Pair, headerless: boolean): number {
  if (content === NEVER) return 0;
  if (headerless) return Math.max(0, content + 0.1);
  if (header < LEAST_HEADER && content < BY_CONTENT_ALONE) return 0;
  const sum = header + content;
  return sum < 1.8 ? 0 : sum;
}

function marginOf(scores: number[][], row: number, column: number): number {
  const own = scores[row]![column]!;
  const others = [
    ...scores[row]!.filter((_, index) => index !== column),
    ...scores.filter((_, index) => index !== row).map((each) => each[column]!),
  ];
  return own - Math.max(0, ...others);
}

/** Kinds differ in how many fields they have: what is explained counts for, columns left over count against. */
function total(scores: number[][], chosen: number[], slots: SlotMatch[]): number {
  const explained = chosen.reduce((sum, at, row) => sum + (at < 0 ? -0.7 : Math.min(6, scores[row]![at]!)), 0);
  return explained + slots.reduce((sum, { header, content }) => sum + Math.min(6, header + content), 0);
}

/** Columns whose header names a slot, and what of it; where it names the slot alone, the cells tell what. */
function slotColumns(columns: ColumnProfile[]): SlotMatch[] {
  const found = withDoubt(columns.flatMap((column): SlotMatch[] => slotColumn(column, columns) ?? []));
  const best = new Map<string, SlotMatch>();
  for (const match of found) {
    const name = `${match.slot}.${match.attribute}`;
    const other = best.get(name);
    if (other === undefined || other.header + other.content < match.header + match.content) best.set(name, match);
  }
  const order = Object.keys(SLOT_TITLES);
  return [...best.values()].sort((a, b) => order.indexOf(a.slot) - order.indexOf(b.slot));
}

function slotColumn(column: ColumnProfile, columns: ColumnProfile[]): SlotMatch[] | undefined {
  const tokens = headerTokens(column.header).whole;
  const named = slotHeader(tokens);
  if (named !== undefined) {
    const slot = atOtherEnd(named, column, columns);
    const attribute = attributeIn(column, named.attribute, slot.slot);
    if (attribute !== undefined) {
      const content = slotContent(column, attribute, slot.slot);
      return [{ ...slot, attribute, column, header: named.score, content, margin: 2 }];
    }
  }
  const bare = slotOf(tokens) ?? bareEnd(tokens);
  if (bare === undefined || column.filled === 0) return undefined;
  const slot = atOtherEnd(bare, column, columns);
  const told = ["condition", "damage_mode", "fitted"]
    .map((attribute) => ({ attribute, content: slotContent(column, attribute, slot.slot) }))
    .sort((a, b) => b.content - a.content)[0]!;
  return told.content < 1.5 ? undefined : [{ ...slot, ...told, column, header: 1, margin: 0 }];
}

/** What a header says that a column tells of its slot, as far as its cells can; names under "fitted" are the parts that were. */
function attributeIn(column: ColumnProfile, attribute: string, slot: string): string | undefined {
  if (slotContent(column, attribute, slot) > NEVER) return attribute;
  return attribute === "fitted" && mayBeParts(column) ? "part" : undefined;
}

function bareEnd(tokens: string[]): NamedSlot | undefined {
  const { slot, rest } = endAlone(tokens);
  return slot === undefined || rest.length > 0 ? undefined : { slot, told: "end" };
}

function slotContent(column: ColumnProfile, attribute: string, slot: string): number {
  if (column.filled === 0) return 0;
  if (dateShare(column) > 0.5) return NEVER;
  if (attribute === "part" || attribute === "batch") return 0.5;
  const share = listShare(column.words, listOf(attribute, slot));
  const numeric = column.numbers.count > 0.8 * column.filled && attribute !== "fitted";
  return numeric || (attribute === "fitted" && share < 0.5) ? NEVER : 3 * share - 0.5;
}

const CARD_ORDER = ["removed_on", "received_on", "built_on", "installed_on"];
const BY_COUNT: Record<number, string[]> = {
  1: ["removed_on"],
  2: ["removed_on", "installed_on"],
  3: ["removed_on", "built_on", "installed_on"],
};

function headerlessOrder(dates: number): string[] {
  return BY_COUNT[dates] ?? CARD_ORDER;
}

function adding(wanted: Wanted[], scores: number[][]) {
  return (row: number, key: string, more: number) => {
    const column = wanted.findIndex((field) => field.key === key);
    if (column >= 0 && scores[row]![column]! > 0) scores[row]![column]! += more;
  };
}

/** What few cards tell is not guessed from bare numbers. */
const RARE: ReadonlySet<string> = new Set(["race_depth", "spigot_height", "end_play_unshimmed"]);

/** Of fields whose cells look alike, those that cards have first. */
const COMMONEST = ["hours_removed", "end_play"];

/** Without a header the columns' places speak: numbers of cards and units stand first. */
function addPlaces(wanted: Wanted[], scores: number[][]): void {
  const add = adding(wanted, scores);
  for (const row of scores.keys()) {
    add(row, "card", 1.2 / (row + 1));
    add(row, "unit", 1 / (row + 1));
    for (const key of COMMONEST) add(row, key, 0.2);
  }
}

/** The dates of a card come in the order of the work: a little for a column that comes when its field should, all without a header. */
function addOrder(
  columns: ColumnProfile[],
  wanted: Wanted[],
  scores: number[][],
  alone: string[] | undefined,
  ranks: DateRanks,
): void {
  const add = adding(wanted, scores);
  const headers = columns.map(({ header }) =>
    CARD_ORDER.map((key) => headerScore("rebuild", key, headerTokens(header))),
  );
  const dates = [...columns.keys()]
    .filter((row) => ranks.has(columns[row]!.place))
    .sort((a, b) => ranks.get(columns[a]!.place)! - ranks.get(columns[b]!.place)!);
  for (const [place, row] of dates.entries()) {
    const share = dates.length === 1 ? 0 : place / (dates.length - 1);
    const most = dates.length > 1 && isEither(headers[row]!) ? 1.2 : 0.6;
    for (const [index, key] of CARD_ORDER.entries())
      add(row, key, most * (1 - Math.abs(share - index / (CARD_ORDER.length - 1))));
    const own = alone?.[place];
    if (own !== undefined) add(row, own, 1.5);
  }
}

/** "Date out" may be out of service or out of the shop: the order of the days tells. */
function isEither(scores: number[]): boolean {
  const [best = 0, second = 0] = scores.toSorted((a, b) => b - a);
  return second >= LEAST_HEADER && best - second < 0.3;
}

/** The column that says the unit of each measured value. */
export function unitColumn(table: TableProfile): ColumnProfile | undefined {
  return table.columns.find(
    ({ words, filled, distinct }) => filled > 0 && distinct <= 12 && knownShare(words, isUnit) > 0.6,
  );
}
