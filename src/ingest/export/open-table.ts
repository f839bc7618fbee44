import type { EngineUse } from "../../store/engine.ts";
import type { Fingerprint } from "./fingerprint.ts";
import type { Reading } from "./reading.ts";

/** An export as one text table, made ready for the engine's reader. Close it: it may hold temporary copies. */
export type OpenExport = {
  /** UTF-8, one way to read it, all cells text. */
  csvPath: string;
  delimiter: string;
  /**
   * Names as they stand, blanks around them gone; "" where blank. Several header rows are joined by " / ": a title in an upper row stands
   * over all the columns that it is merged over in a workbook, up to the next title in a delimited text. Columns of JSON and
   * of nested Parquet are paths, as `columnPath()` writes them.
   */
  header: string[];
  /** Records of the table above the header: titles, print dates. */
  above: number;
  /** Records of the table that are the header. */
  headerRecords: number;
  /** Numbers of the empty lines, or of a sheet's empty rows, which are not in the table; ascending. */
  blanks: number[];
  /** Numbers of the records whose quotes are broken. */
  broken: number[];
  /** Numbers of the JSON records that nest a mapped value where it is asked for plain, or the other way round, and columns that tell it. */
  nested?: { rows: number[]; columns: string[] };
  /** Records of the table, those above the header and the header among them. */
  records?: number;
  /** A quoted cell holds a line end: the engine must then read on one thread. */
  quotedNewlines: boolean;
  /** No record has more cells than the header: the reader need not look for any. */
  fits?: true;
  /** All of it is ASCII. */
  ascii?: true;
  /** No cell begins as a spreadsheet's errors do. */
  withoutErrors?: true;
  /** As it was read: with the rows of the header. */
  reading: Reading;
  /** Of a workbook: the year from which its day numbers count. */
  dateSystem?: 1900 | 1904;
  close: () => Promise<void>;
};

export type OpenTable = Omit<OpenExport, "close">;

export type ExportToOpen = {
  path: string;
  /** As messages name it. */
  shownPath: string;
  reading: Reading;
  /** Per mapped column its alternatives, names or places: what the header is known by where no row is named. */
  wanted: (string | number)[][];
  mark: Fingerprint;
  /** Folder for temporary copies. */
  scratch: string;
  /** How an engine is to be used that reads it. */
  engine?: EngineUse;
};
