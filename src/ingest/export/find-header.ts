import { UserError } from "../../errors.ts";
import { HEADER_WITHIN } from "./limits.ts";
import type { NumberedRecord } from "./parse-records.ts";
import type { Reading } from "./reading.ts";

/** What is known where a header is looked for. */
export type HeaderSearch = {
  /** The first records that hold anything: `enoughForHeader` says how many. */
  first: NumberedRecord[];
  /** Per mapped column its alternatives, names or places. */
  wanted: (string | number)[][];
  header: Reading["header"];
  /** Cells of an upper header row, `width` of them, each title standing over all the columns that it spans. */
  spread: (row: NumberedRecord, width: number) => string[];
  shownPath: string;
};

export type FoundHeader = {
  /** One a column, blanks around them gone. */
  header: string[];
  rows: "none" | number[];
  /** Records above it. */
  above: number;
  headerRecords: number;
  /** Every column wanted is there. */
  complete: boolean;
};

/** Whether these are enough records to find the header among. */
export function enoughForHeader(first: NumberedRecord[], header: Reading["header"]): boolean {
  if (Array.isArray(header)) return (first.at(-1)?.number ?? 0) >= Math.max(...header);
  return first.length >= HEADER_WITHIN;
}

/**
 * The header of a table: the rows named, or else the first record that has every column wanted; where none has, the one that has most.
 * Several rows are joined by " / ", column by column.
 * @throws UserError if there are no records, or a row named holds nothing
 */
export function findHeader(search: HeaderSearch): FoundHeader {
  const { first, header, shownPath } = search;
  if (first.length === 0) {
    throw new UserError(
      `Cannot read ${shownPath}: it holds only empty lines, no header; export it again, or take it out of "files"`,
    );
  }
  if (header === "none") {
    const widest = Math.max(...first.map(({ cells }) => cells.length));
    return {
      header: Array.from({ length: widest }, () => ""),
      rows: "none",
      above: 0,
      headerRecords: 0,
      complete: true,
    };
  }
  const at = header === undefined ? bestRecord(search) : placeOf(search, header);
  const rows = first.slice(at, at + (header?.length ?? 1));
  const names = joined(rows, search.spread);
  return {
    header: names,
    rows: rows.map(({ number }) => number),
    above: at,
    headerRecords: rows.length,
    complete: matches(names, search.wanted) === search.wanted.length,
  };
}

function bestRecord({ first, wanted }: HeaderSearch): number {
  let [best, most] = [0, -1];
  for (const [at, { cells }] of first.slice(0, HEADER_WITHIN).entries()) {
    const found = matches(cells, wanted);
    if (found === wanted.length) return at;
    if (found > most) [best, most] = [at, found];
  }
  return best;
}

function matches(cells: string[], wanted: (string | number)[][]): number {
  const names = new Set(cells.map(comparable));
  const isThere = (key: string | number) =>
    typeof key === "number" ? key <= cells.length : names.has(comparable(key));
  return wanted.filter((alternatives) => alternatives.some(isThere)).length;
}

/** Names are compared as a person would: case and blanks don't count. */
function comparable(name: string): string {
  return name.trim().replace(/\s+/g, " ").toLowerCase();
}

function placeOf({ first, shownPath }: HeaderSearch, rows: number[]): number {
  const ascending = rows.toSorted((a, b) => a - b);
  const at = first.findIndex(({ number }) => number === ascending[0]);
  const found = first.slice(Math.max(at, 0), at + rows.length);
  const missing = ascending.find((row) => !first.some(({ number }) => number === row));
  if (missing !== undefined) {
    const firstFilled = first[0]!.number;
    throw new UserError(
      `Cannot read ${shownPath}: its row ${missing} is empty, but "header" in its pipeline names it; name the row of the column titles (the first that holds anything is ${firstFilled}), or leave "header" out`,
    );
  }
  const between = found.find(({ number }, index) => number !== ascending[index]);
  if (between === undefined) return at;
  throw new UserError(
    `Cannot read ${shownPath}: row ${between.number} holds something and lies between the rows ${ascending.join(", ")} that "header" names; name it too`,
  );
}

function joined(rows: NumberedRecord[], spread: HeaderSearch["spread"]): string[] {
  const width = Math.max(...rows.map(({ cells }) => cells.length));
  const titles = rows.map((row, index) => (index < rows.length - 1 ? spread(row, width) : row.cells));
  return Array.from({ length: width }, (_, column) =>
    titles
      .map((cells) => (cells[column] ?? "").trim())
      .filter((title) => title !== "")
      .join(" / "),
  );
}

/** A delimited text does not say how far a title spans: it is taken to reach up to the next one. */
export function spreadToNext({ cells }: NumberedRecord, width: number): string[] {
  let title = "";
  return Array.from({ length: width }, (_, column) => {
    const cell = (cells[column] ?? "").trim();
    if (cell !== "") title = cell;
    return title;
  });
}
