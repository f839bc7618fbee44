import { DuckDBListType, DuckDBStructType, type DuckDBType, DuckDBTypeId } from "@duckdb/node-api";
import { quoteIdentifier, quoteText } from "../../../store/quote.ts";
import { columnPath } from "../json/column-path.ts";

/** A column of the text table: its name, and SQL of its text. */
export type Leaf = { name: string; sql: string };

/** How long the lists of a column are at most, by their SQL. */
export type Lengths = (list: string) => number;

type Place = { name: string; sql: string; type: DuckDBType };

/** SQL of the lists in columns that are to be taken apart; those inside lists are left as text. */
export function listsIn(columns: Place[]): string[] {
  return columns.flatMap((place) => {
    if (place.type instanceof DuckDBListType) return [place.sql];
    return place.type instanceof DuckDBStructType ? listsIn(membersOf(place, place.type)) : [];
  });
}

/** Columns as texts, structs taken apart into dotted paths, lists into places, in the order of the file. */
export function leavesOf(columns: Place[], lengths: Lengths, mark: "." | ","): Leaf[] {
  return columns.flatMap((place) => leaves(place, lengths, mark));
}

/** A column of a file by its own name. */
export function topColumn(name: string, type: DuckDBType): Place {
  return { name: columnPath("", name), sql: quoteIdentifier(name), type };
}

function leaves(place: Place, lengths: Lengths, mark: "." | ","): Leaf[] {
  const { name, sql, type } = place;
  if (type instanceof DuckDBStructType) return leavesOf(membersOf(place, type), lengths, mark);
  if (!(type instanceof DuckDBListType)) return [{ name, sql: textSql(sql, type, mark) }];
  const inner: Lengths = () => 0;
  return Array.from({ length: lengths(sql) }, (_, at) => {
    const element = { name: `${name}[${at}]`, sql: `${sql}[${at + 1}]`, type: type.valueType };
    return type.valueType instanceof DuckDBListType
      ? [{ name: element.name, sql: `${element.sql}::varchar` }]
      : leaves(element, inner, mark);
  }).flat();
}

function membersOf({ name, sql }: Place, type: DuckDBStructType): Place[] {
  return type.entryNames.map((key, index) => ({
    name: columnPath(name, key),
    sql: `struct_extract(${sql}, ${quoteText(key)})`,
    type: type.entryTypes[index]!,
  }));
}

/**
 * A value as text: numbers in their shortest form, days as YYYY-MM-DD, days with a time other than midnight as YYYY-MM-DD HH:MM:SS, in
 * UTC where the file knows of time zones.
 */
function textSql(sql: string, { typeId }: DuckDBType, mark: "." | ","): string {
  const text = `${sql}::varchar`;
  switch (typeId) {
    case DuckDBTypeId.DOUBLE:
    case DuckDBTypeId.FLOAT:
      return marked(floatSql(text), mark);
    case DuckDBTypeId.DECIMAL:
      return marked(text, mark);
    case DuckDBTypeId.TIMESTAMP:
    case DuckDBTypeId.TIMESTAMP_S:
    case DuckDBTypeId.TIMESTAMP_MS:
    case DuckDBTypeId.TIMESTAMP_NS:
      return daySql(text);
    case DuckDBTypeId.TIMESTAMP_TZ:
      return daySql(`(${sql} at time zone 'UTC')::varchar`);
    default:
      return text;
  }
}

/** The engine writes 5.0 and 1.5e-05 for what is 5 and 0.000015 in its shortest form. */
function floatSql(text: string): string {
  const small = `rtrim(try_cast(${text} as decimal(38, 30))::varchar, '0')`;
  return `case when contains(${text}, 'e-') then coalesce(${small}, ${text}) when contains(${text}, 'e+') then upper(${text}) else regexp_replace(${text}, '\\.0$', '') end`;
}

function marked(text: string, mark: "." | ","): string {
  return mark === "." ? text : `replace(${text}, '.', ',')`;
}

function daySql(text: string): string {
  return `regexp_replace(${text}, ' 00:00:00$', '')`;
}
