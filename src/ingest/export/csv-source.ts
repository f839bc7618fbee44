import { quoteIdentifier, quoteText } from "../../store/quote.ts";
import type { OpenExport } from "./open-export.ts";

/** Columns beyond the header, so that a row of too many cells is seen; the reader would cut it off without a word. */
export const OVERFLOW = 8;

/** Name of the `index`-th source column, from 0; headers never become names, so that nothing in them matters. */
export function sourceColumn(index: number): string {
  return `c${index}`;
}

/** The engine's reader on an export, every column as text; the header comes as its first row. */
export function csvSource({ csvPath, delimiter, header, quotedNewlines }: OpenExport): string {
  const columns = Array.from(
    { length: header.length + OVERFLOW },
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
    `parallel = ${quotedNewlines ? "false" : "true"}`,
    `columns = {${columns.join(", ")}}`,
  ];
  return `read_csv(${options.join(", ")})`;
}

/** The source row as JSON, header -> cell; a header that stands twice, or is blank, gets its column's number. */
export function rawJson(header: string[]): string {
  const keys = header.map((name, index) =>
    name === "" || header.indexOf(name) !== index ? `column ${index + 1}` : name,
  );
  const overflow = Array.from({ length: OVERFLOW }, (_, index) => `beyond ${index + 1}`);
  const pairs = [...keys, ...overflow].map(
    (key, index) => `${quoteText(key)}, ${quoteIdentifier(sourceColumn(index))}`,
  );
  return `json_merge_patch('{}', json_object(${pairs.join(", ")}))::varchar`; // the patch drops what is NULL
}
