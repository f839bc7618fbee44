import { join } from "node:path";
import { UserError } from "../../errors.ts";
import { OVERFLOW } from "./csv-source.ts";
import { enoughForHeader, type FoundHeader, findHeader, spreadToNext } from "./find-header.ts";
import { MOST_COLUMNS, megabytes, RECORD_BYTES } from "./limits.ts";
import type { ExportToOpen, OpenTable } from "./open-table.ts";
import { type NumberedRecord, parseRecords } from "./parse-records.ts";
import { plainLines } from "./plain-lines.ts";
import { rewriteTable } from "./rewrite-table.ts";
import { type Scan, scanRecords } from "./scan-records.ts";
import { type Text, textOf } from "./text-of.ts";

/**
 * Makes a delimited text ready: another encoding is copied to UTF-8; quotes and line ends that readers take in different ways, and
 * records with more cells than the reader looks at, are rewritten; empty lines and broken quotes are found.
 */
export async function openDelimited(wanted: ExportToOpen, scratch: string): Promise<OpenTable> {
  const { shownPath, reading } = wanted;
  const { delimiter } = reading;
  const text = await textOf(wanted, scratch);
  const scan = await scanOf(text, delimiter);
  refuseUnreadable(scan, shownPath);
  const found = await headerOf(text.path, wanted);
  if (!found.complete) refuseOtherDelimiter(found.header, wanted);
  const rewrite = scan.odd || scan.widest > found.header.length + OVERFLOW;
  const csvPath = rewrite
    ? await rewriteTable(text.path, delimiter, found.header.length, join(scratch, "clean.csv"))
    : text.path;
  return {
    csvPath,
    delimiter,
    header: found.header,
    above: found.above,
    headerRecords: found.headerRecords,
    blanks: scan.blanks,
    broken: scan.broken,
    records: scan.records,
    quotedNewlines: scan.quotedNewlines,
    ...(scan.widest <= found.header.length ? { fits: true } : {}),
    ...(text.mark.ascii ? { ascii: true } : {}),
    ...(text.mark.numberSigns ? {} : { withoutErrors: true }),
    reading: { ...reading, header: found.rows },
  };
}

async function scanOf({ path, mark }: Text, delimiter: string): Promise<Scan> {
  if (!mark.plain) return scanRecords(path, delimiter);
  return { ...(await plainLines(path, delimiter)), blanks: [], broken: [], quotedNewlines: false, odd: false };
}

function refuseUnreadable({ tooLong, openQuoteLine }: Scan, shownPath: string): void {
  if (tooLong !== undefined) {
    throw new UserError(
      `Cannot read ${shownPath}: line ${tooLong}: the record that begins there is over ${megabytes(RECORD_BYTES)} long, as if its lines had no ends; export it again with a line end after each record`,
    );
  }
  if (openQuoteLine !== undefined) {
    throw new UserError(
      `Cannot read ${shownPath}: the quote that opens on line ${openQuoteLine} is not closed, so that what follows can't be told apart; close it there, or export the file again`,
    );
  }
}

async function headerOf(path: string, { shownPath, reading, wanted }: ExportToOpen): Promise<FoundHeader> {
  const { header, delimiter } = reading;
  const first: NumberedRecord[] = [];
  for await (const record of parseRecords(path, delimiter)) {
    first.push(record);
    if (enoughForHeader(first, header)) break;
  }
  const found = findHeader({ first, wanted, header, spread: spreadToNext, shownPath });
  if (found.header.length <= MOST_COLUMNS) return found;
  throw new UserError(
    `Cannot read ${shownPath}: its header has ${found.header.length.toLocaleString("en-US")} columns, over ${MOST_COLUMNS.toLocaleString("en-US")}, as if its lines had no ends; export it again with a line end after each record`,
  );
}

const DELIMITERS: Record<string, string> = { ";": "semicolons", "\t": "tabs", ",": "commas", "|": "bars" };

/** A header that is one cell, with another mark in it, was parted by that mark. */
function refuseOtherDelimiter(header: string[], { shownPath, reading }: ExportToOpen): void {
  const only = header.length === 1 ? header[0]! : "";
  const [mark, words] = Object.entries(DELIMITERS).find(([other]) => only.includes(other)) ?? [];
  if (mark === undefined || words === undefined) return;
  const shown = only.length > 100 ? `${only.slice(0, 100)}...` : only;
  throw new UserError(
    `Cannot read ${shownPath}: its header is one cell, ${JSON.stringify(shown)}, which holds ${words}, not ${JSON.stringify(reading.delimiter)}; set "delimiter: ${JSON.stringify(mark)}" in its pipeline`,
  );
}
