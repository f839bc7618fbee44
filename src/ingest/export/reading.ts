import { UserError } from "../../errors.ts";
import type { Pipeline } from "../../workspace/pipeline.ts";

/** How an export's bytes become its text table; kept as JSON with the file, so that the kept copy is opened again in the same way. */
export type Reading = {
  format: "csv" | "tsv" | "xlsx" | "json" | "ndjson" | "parquet";
  encoding: "utf-8" | "utf-16" | "windows-1252" | "latin-1";
  delimiter: string;
  decimalMark: "." | ",";
  /** Sheet of a workbook, by name. */
  sheet?: string;
  /** Numbers of the header's rows; "none" where there is none; unknown until the header has been looked for. */
  header?: "none" | number[];
  /** JSON: path to the records, as in `recordsPath()`. */
  records?: string;
};

/** Formats by the endings of files, in lower case and without the dot. */
export const FORMATS: Record<string, Reading["format"]> = {
  csv: "csv",
  txt: "csv",
  tsv: "tsv",
  tab: "tsv",
  xlsx: "xlsx",
  xlsm: "xlsx",
  json: "json",
  ndjson: "ndjson",
  jsonl: "ndjson",
  parquet: "parquet",
};

type Said = Pick<Pipeline, "format" | "encoding" | "delimiter" | "decimal_mark" | "header" | "records">;

/**
 * How a pipeline says that a file is to be read.
 * @throws UserError if the format is not said and the file's ending tells none, or the delimiter can't be one
 */
export function readingOf(pipeline: Said, shownPath: string, sheet?: string): Reading {
  const { encoding, header, records } = pipeline;
  const format = pipeline.format ?? formatOf(shownPath);
  const delimiter = pipeline.delimiter ?? (format === "tsv" ? "\t" : ",");
  if (!/^[\t\x20-\x7e]$/.test(delimiter) || delimiter === '"') {
    throw new UserError(
      `Cannot read ${shownPath}: ${JSON.stringify(delimiter)} can't part cells; set "delimiter" in its pipeline to another ASCII character, such as a comma, a semicolon or a tab`,
    );
  }
  return {
    format,
    encoding,
    delimiter,
    decimalMark: pipeline.decimal_mark,
    ...(sheet === undefined ? {} : { sheet }),
    ...(header === undefined ? {} : { header }),
    ...(records === undefined ? {} : { records }),
  };
}

function formatOf(path: string): Reading["format"] {
  const ending = /\.([^./\\]+)$/.exec(path.replace(/\.gz$/i, ""))?.[1]?.toLowerCase() ?? "";
  const format = FORMATS[ending];
  if (format !== undefined) return format;
  const remedy =
    ending === "xls" || ending === "xlsb" || ending === "ods"
      ? "save it as .xlsx"
      : `set "format" in its pipeline, one of ${[...new Set(Object.values(FORMATS))].join(", ")}`;
  throw new UserError(`Cannot read ${path}: its ending, "${ending}", is of no format known here; ${remedy}`);
}
