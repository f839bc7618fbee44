import type { Pipeline } from "../../workspace/pipeline.ts";
export type Reading = {
  format: "csv" | "tsv" | "xlsx" | "json" | "ndjson" | "parquet";
  encoding: Pipeline["encoding"];
  delimiter: string;
  decimalMark: "." | ",";
  sheet?: string;
  header?: "none" | number[];
  records?: string;
};
export function readingOf(pipeline: Pipeline, _shownPath: string, sheet?: string): Reading {
  return {
    format: pipeline.format ?? "csv",
    encoding: pipeline.encoding,
    delimiter: pipeline.delimiter ?? ",",
    decimalMark: pipeline.decimal_mark,
    ...(sheet ? { sheet } : {}),
  };
}
