import { quoteIdentifier, quoteText } from "../../store/quote.ts";
import { RECORD_BYTES } from "./limits.ts";
import type { OpenExport } from "./open-table.ts";

/**
 * Columns beyond the header, so that a row of too many cells is seen; the reader would cut it off without a word. In an open export the
 * last of them holds whatever goes beyond.
 */
export const OVERFLOW = 8;

/** How many columns beyond the header the reader looks for. */
export function columnsBeyond({ fits }: Pick<OpenExport, "fits">): number {
  return fits === true ? 0 : OVERFLOW;
}

/** Name of the `index`-th source column, from 0; headers never become names, so that nothing in them matters. */
export function sourceColumn(index: number): string {
  return `c${index}`;
}

/** The engine's reader on an export, every column as text; the header comes as its first row. */
export function csvSource(source: OpenExport): string {
  const { csvPath, delimiter, header, quotedNewlines } = source;
  const columns = Array.from(
    { length: header.length + columnsBeyond(source) },
    (_, index) => `${quoteText(sourceColumn(index))}: 'VARCHAR'`,
  );
  const options = [
    quoteText(csvPath),
    "auto_detect = false",
    "header = false",
    `delim = ${quoteText(delimiter)}`,
    `quote = '"'`,
    `escape = '"'`,
    "compression = 'none'",
    "null_padding = true",
    "strict_mode = false",
    `max_line_size = ${2 * RECORD_BYTES}`, // with its quotes written anew
    `buffer_size = ${16 * RECORD_BYTES}`, // as without the line above
    `parallel = ${quotedNewlines ? "false" : "true"}`,
    `columns = {${columns.join(", ")}}`,
  ];
  return `read_csv(${options.join(", ")})`;
}

/** What the cells of a row are called, those beyond the header too; a header that stands twice, or is blank, gets its column's number. */
export function cellNames(source: Pick<OpenExport, "header" | "fits">): string[] {
  const { header } = source;
  const first = new Map<string, number>();
  for (const [index, name] of header.entries()) if (!first.has(name)) first.set(name, index);
  const names = header.map((name, index) => (name === "" || first.get(name) !== index ? `column ${index + 1}` : name));
  return [...names, ...Array.from({ length: columnsBeyond(source) }, (_, index) => `beyond ${index + 1}`)];
}

/** The source row as JSON, name -> cell. */
export function rawJson(source: Pick<OpenExport, "header" | "fits">): string {
  const pairs = cellNames(source).map((key, index) => `${quoteText(key)}, ${quoteIdentifier(sourceColumn(index))}`);
  return `json_merge_patch('{}', json_object(${pairs.join(", ")}))::varchar`; // the patch drops what is NULL
}
