import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../../errors.ts";
import { columns } from "../../store/columns.ts";
import { sourceColumn } from "../export/csv-source.ts";
import { CARD_DATES } from "../mapping/canonical-fields.ts";
import type { ColumnProfile, TableProfile } from "./column-profile.ts";
import { dateShare } from "./content-score.ts";
import type { Layout, Matched } from "./match-columns.ts";
import { columnName } from "./shown.ts";
import { listShare } from "./vocabulary.ts";

/** Different rows per card from which on cards are taken to have a row for each of their components. */
const CROWDED = 1.5;

/**
 * Of what a table may be, the best that keeps the rows of a card apart: cards of several rows are long ones, for in a wide one each row
 * would replace the one before.
 * @throws UserError if cards have several rows and no column tells those apart
 */
export async function keepingRows(
  connection: DuckDBConnection,
  table: TableProfile,
  ranked: Matched[],
  shownPaths: string,
): Promise<Matched> {
  const first = ranked[0]!;
  const isCard = first.record === "rebuild" && first.layout !== "measured";
  if (!isCard || isTold(first)) return first;
  const [wide, long] = [cardsOf(ranked, "wide"), cardsOf(ranked, "long")];
  // Rows of one card are its versions.
  if (wide.fields.has("revised_on")) return wide;
  const keys = keysOf(wide);
  const each: number[] = [];
  for (const key of keys) each.push(await rowsPer(connection, table, key));
  const apart = each.findIndex((rows) => rows < CROWDED);
  if (apart >= 0 || keys.length === 0) return apart === 1 ? without(wide, "card") : wide;
  if (isTold(long)) return long;
  const column = await tellingColumn(connection, table, keys[0]!);
  if (column === undefined) throw notApart(shownPaths, keys[0]!, each[0]!);
  return withSlot(long, column);
}

function cardsOf(ranked: Matched[], wanted: Layout): Matched {
  return ranked.find(({ record, layout }) => record === "rebuild" && layout === wanted)!;
}

function isTold({ layout, fields }: Matched): boolean {
  return layout === "long" && fields.has("slot");
}

/** The columns by which a card may be known: its number, where it has one; its unit and day. */
function keysOf({ fields }: Matched): ColumnProfile[][] {
  const [card, unit] = [fields.get("card"), fields.get("unit")];
  const day = [...CARD_DATES, "installed_on"].flatMap((name) => fields.get(name) ?? [])[0];
  return [
    ...(card === undefined ? [] : [[card.column]]),
    ...(unit === undefined || day === undefined ? [] : [[unit.column, day.column]]),
  ];
}

/** A number that stands on the cards of several units or days is none of a card. */
function without(wide: Matched, key: string): Matched {
  return { ...wide, fields: new Map([...wide.fields].filter(([field]) => field !== key)) };
}

/** Different rows for each different key, of rows that have one. Rows that are alike are looked for only where keys come again. */
async function rowsPer(
  connection: DuckDBConnection,
  { columns: all }: TableProfile,
  key: ColumnProfile[],
): Promise<number> {
  const keys = ["file", ...key.map(cell)]; // a card that comes again in a later file is another version of it
  const have = key.map((column) => `${cell(column)} is not null`).join(" and ");
  const per = async (rows: string) => {
    const found = await columns(
      connection,
      `select count(*)::integer as rows, count(distinct (${keys.join(", ")}))::integer as cards from (${rows})`,
      { rows: "integer", cards: "integer" },
    );
    return (found.rows[0] ?? 0) / Math.max(1, found.cards[0] ?? 0);
  };
  const plain = await per(`select ${keys.join(", ")} from cells where ${have}`);
  if (plain < CROWDED) return plain;
  return per(`select distinct file, ${all.map(cell).join(", ")} from cells where ${have}`);
}

/** The column of few texts that tells the rows of a card apart; of several, the one with the fewest. */
async function tellingColumn(
  connection: DuckDBConnection,
  table: TableProfile,
  key: ColumnProfile[],
): Promise<ColumnProfile | undefined> {
  const few = table.columns
    .filter((column) => !key.includes(column) && mayName(column, table))
    .sort((a, b) => a.distinct - b.distinct);
  for (const column of few) {
    const [all, told] = [await rowsPer(connection, table, key), await rowsPer(connection, table, [...key, column])];
    if (told < 1 + (all - 1) / 20) return column;
  }
  return undefined;
}

/** Words of these say what was found, not where. */
const STATES = ["condition", "fitted", "damage_mode.any", "reason"];

function mayName(column: ColumnProfile, { rows, sampled = rows }: TableProfile): boolean {
  const { filled, distinct, averageLength, numbers } = column;
  const isText = numbers.count < 0.2 * filled && dateShare(column) < 0.2 && averageLength <= 40;
  if (!isText || STATES.some((list) => listShare(column.words, list) > 0.5)) return false;
  return filled >= 0.9 * sampled && distinct >= 2 && distinct <= 60 && distinct * 3 <= filled;
}

/** A long card whose rows a column tells apart that nothing else speaks for. */
function withSlot(long: Matched, column: ColumnProfile): Matched {
  const others = [...long.fields].filter(([, match]) => match.column !== column);
  return { ...long, fields: new Map([...others, ["slot", { column, header: 0, content: 0, margin: 0 }]]) };
}

function notApart(shownPaths: string, key: ColumnProfile[], each: number): UserError {
  const names = key.map(({ header, place }) => columnName(header, place)).join(" and ");
  return new UserError(
    `Cannot draft a pipeline for ${shownPaths}: ${names} ${key.length === 1 ? "stands" : "stand"} in ${each.toFixed(1)} different rows on average, and no column tells which component each row is of; export one row a card, or with a column that names the component`,
  );
}

function cell({ place }: ColumnProfile): string {
  return sourceColumn(place - 1);
}
