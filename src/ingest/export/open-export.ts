import { createWriteStream } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import { pipeline } from "node:stream/promises";
import { UserError } from "../../errors.ts";
import { decodeExport } from "./decode-export.ts";
import type { Fingerprint } from "./fingerprint.ts";
import { parseRecords } from "./parse-records.ts";
import type { Reading } from "./reading.ts";
import { type Scan, scanRecords } from "./scan-records.ts";

export type Encoding = "utf-8" | "latin-1" | "utf-16" | "windows-1252";

/** An export made ready for the engine's reader. Close it: it may hold a temporary copy. */
export type OpenExport = {
  above: number;
  headerRecords: number;
  reading: Reading;
  dateSystem?: 1900 | 1904;
  /** UTF-8, one way to read it. */
  csvPath: string;
  delimiter: string;
  /** Headers as they stand, blanks around them gone. */
  header: string[];
  /** Numbers of the empty lines, which the engine's reader passes over; ascending. */
  blanks: number[];
  /** Numbers of the records whose quotes are broken. */
  broken: number[];
  /** Records that hold anything, the header among them; unknown for a plain file until it is read. */
  records?: number;
  /** A quoted cell holds a line end: the engine must then read on one thread. */
  quotedNewlines: boolean;
  close: () => Promise<void>;
};

export type ExportToOpen = {
  path: string;
  /** As messages name it. */
  shownPath: string;
  reading: Reading;
  wanted: unknown;
  mark: Fingerprint;
  /** Folder for temporary copies. */
  scratch: string;
};

const PLAIN: Scan = { records: 0, blanks: [], broken: [], quotedNewlines: false, odd: false };

/**
 * Makes an export ready to be read: another encoding is copied to UTF-8, quotes and line ends that readers take in different
 * ways are rewritten, empty lines and broken quotes are found.
 * @throws UserError if the file is empty, isn't in the encoding declared, or a quote in it isn't closed
 */
export async function openExport(wanted: ExportToOpen): Promise<OpenExport> {
  if (wanted.mark.bytes === 0) {
    throw new UserError(
      `Cannot read ${wanted.shownPath}: the file is empty, without even a header; export it again, or take it out of "files"`,
    );
  }
  refuseForeign(wanted);
  const scratch = await mkdtemp(join(wanted.scratch, "reading-"));
  const close = () => rm(scratch, { recursive: true, force: true });
  try {
    return { ...(await ready(wanted, scratch)), close };
  } catch (error) {
    await close();
    throw error;
  }
}

function refuseForeign({ shownPath, reading: { encoding }, mark }: ExportToOpen): void {
  if (encoding !== "utf-8" || mark.foreignLine === undefined) return;
  throw new UserError(
    `Cannot read ${shownPath}: line ${mark.foreignLine} is not UTF-8; set "encoding: latin-1" or "encoding: utf-16" in its pipeline, or export it as UTF-8`,
  );
}

async function ready(wanted: ExportToOpen, scratch: string): Promise<Omit<OpenExport, "close">> {
  const {
    shownPath,
    reading: { delimiter },
  } = wanted;
  const text = await utf8Copy(wanted, join(scratch, "text.csv"));
  const scan = wanted.mark.plain && wanted.reading.encoding === "utf-8" ? PLAIN : await scanRecords(text, delimiter);
  if (scan.openQuoteLine !== undefined) {
    throw new UserError(
      `Cannot read ${shownPath}: the quote that opens on line ${scan.openQuoteLine} is not closed, so that what follows can't be told apart; close it there, or export the file again`,
    );
  }
  const csvPath = scan.odd ? await rewritten(text, delimiter, join(scratch, "clean.csv")) : text;
  const header = await headerOf(csvPath, delimiter, shownPath);
  const found = {
    above: 0,
    headerRecords: 1,
    reading: wanted.reading,
    csvPath,
    delimiter,
    header,
    blanks: scan.blanks,
    broken: scan.broken,
    quotedNewlines: scan.quotedNewlines,
  };
  return scan === PLAIN ? found : { ...found, records: scan.records };
}

async function utf8Copy({ path, reading: { encoding } }: ExportToOpen, copy: string): Promise<string> {
  if (encoding === "utf-8") return path;
  await decodeExport(path, encoding, copy);
  return copy;
}

async function rewritten(from: string, delimiter: string, to: string): Promise<string> {
  await pipeline(async function* () {
    for await (const cells of parseRecords(from, delimiter)) {
      yield `${cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(delimiter)}\n`;
    }
  }, createWriteStream(to));
  return to;
}

async function headerOf(path: string, delimiter: string, shownPath: string): Promise<string[]> {
  for await (const cells of parseRecords(path, delimiter)) return cells.map((cell) => cell.trim());
  throw new UserError(
    `Cannot read ${shownPath}: it holds only empty lines, no header; export it again, or take it out of "files"`,
  );
}
