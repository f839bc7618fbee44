import { isUtf8 } from "node:buffer";
import { join } from "node:path";
import { UserError } from "../../errors.ts";
import { decodeExport } from "./decode-export.ts";
import { type Fingerprint, fingerprint } from "./fingerprint.ts";
import { lineChunks } from "./line-chunks.ts";
import type { ExportToOpen } from "./open-table.ts";
import type { Reading } from "./reading.ts";
import { headOf, type Looks, looksOf } from "./sniff.ts";
import { unpackGzip } from "./unpack-gzip.ts";

/** A UTF-8 text of one of the text kinds, and what its bytes tell: the file itself, or a copy unpacked and decoded. */
export type Text = { path: string; mark: Fingerprint };

type Wanted = Pick<ExportToOpen, "path" | "shownPath" | "reading" | "mark">;

/**
 * Unpacks and decodes an export of a text kind where it needs to be.
 * @throws UserError if it is of another format or encoding than declared, and which it looks like
 */
export async function textOf(wanted: Wanted, scratch: string): Promise<Text> {
  const { shownPath, reading } = wanted;
  const raw = await unpacked(wanted, scratch);
  const looks = looksOf(await headOf(raw.path));
  refuseFormat(looks, reading, shownPath);
  refuseMark(looks, reading, shownPath);
  if (reading.encoding === "utf-8") {
    if (raw.mark.zeros) throw await zeroByte(raw.path, shownPath);
    if (!raw.mark.utf8) throw await foreign(raw.path, shownPath);
    return raw;
  }
  const path = join(scratch, "text");
  await decodeExport(raw.path, reading.encoding, path, shownPath);
  const mark = await fingerprint(path, shownPath);
  if (mark.zeros) throw await zeroByte(path, shownPath);
  return { path, mark };
}

async function unpacked({ path, shownPath, mark }: Wanted, scratch: string): Promise<Text> {
  if (looksOf(await headOf(path)) !== "gzip") return { path, mark };
  const copy = join(scratch, "unpacked");
  await unpackGzip(path, shownPath, copy);
  const found = await fingerprint(copy, shownPath);
  if (found.bytes > 0) return { path: copy, mark: found };
  throw new UserError(
    `Cannot read ${shownPath}: the file packed in it is empty, without even a header; export it again, or take it out of "files"`,
  );
}

const OTHER: Partial<Record<Looks, string>> = {
  gzip: "packed twice; unpack it once",
  zip: 'a zip file, as workbooks are; set "format: xlsx" in its pipeline, or take the export out of the zip file',
  parquet: 'a Parquet file; set "format: parquet" in its pipeline',
  "old workbook":
    'a workbook of the old binary kind (.xls), or one locked by a password; save it as .xlsx without a password, and set "format: xlsx"',
  pdf: "a PDF file; export the records as a spreadsheet or as CSV",
  "web page":
    "a web page or XML under another name, as some programs write for spreadsheets; open it in a spreadsheet and save it as .xlsx",
};

function refuseFormat(looks: Looks, { format }: Reading, shownPath: string): void {
  const delimited = format === "csv" || format === "tsv";
  const words =
    looks === "json" && delimited
      ? 'JSON; set "format: json" in its pipeline, or "format: ndjson" where each line is a record'
      : OTHER[looks];
  if (words !== undefined) throw new UserError(`Cannot read ${shownPath} as ${format}: it is ${words}`);
}

function refuseMark(looks: Looks, { encoding }: Reading, shownPath: string): void {
  const marked = looks === "utf-16 marked" ? "utf-16" : looks === "utf-8 marked" ? "utf-8" : encoding;
  if (marked === encoding) return;
  throw new UserError(
    `Cannot read ${shownPath} as ${encoding}: it begins with the byte order mark of ${marked.toUpperCase()}; set "encoding: ${marked}" in its pipeline`,
  );
}

const NEWLINE = 0x0a;

async function zeroByte(path: string, shownPath: string): Promise<UserError> {
  let line = 1;
  for await (const chunk of lineChunks(path)) {
    const zero = chunk.indexOf(0);
    for (const byte of zero < 0 ? chunk : chunk.subarray(0, zero)) if (byte === NEWLINE) line++;
    if (zero >= 0) break;
  }
  return new UserError(
    `Cannot read ${shownPath}: line ${line} holds a zero byte, which no text has; set "encoding: utf-16" in its pipeline if it is UTF-16 without a byte order mark, or export it again`,
  );
}

/** Names the first line that is not UTF-8, and the encoding that the lines which are not speak for. */
async function foreign(path: string, shownPath: string): Promise<UserError> {
  let line = 0;
  let first: number | undefined;
  for await (const each of lines(path)) {
    line++;
    if (isUtf8(each)) continue;
    first ??= line;
    const windows = each.find((byte) => byte >= 0x80 && byte <= 0x9f);
    if (windows !== undefined) return notUtf8(shownPath, first, { line, byte: windows });
  }
  return notUtf8(shownPath, first ?? line);
}

function notUtf8(shownPath: string, line: number, windows?: { line: number; byte: number }): UserError {
  const words =
    windows === undefined
      ? 'set "encoding: latin-1" or "encoding: windows-1252" in its pipeline'
      : `line ${windows.line} holds the byte ${windows.byte.toString(16).toUpperCase()}, as Windows-1252 has it; set "encoding: windows-1252" in its pipeline`;
  return new UserError(
    `Cannot read ${shownPath}: line ${line} is not UTF-8${windows === undefined ? "; " : ", and "}${words}, or export it as UTF-8`,
  );
}

async function* lines(path: string): AsyncGenerator<Buffer> {
  for await (const chunk of lineChunks(path)) {
    for (let start = 0; start < chunk.length; ) {
      const newline = chunk.indexOf(NEWLINE, start);
      const end = newline < 0 ? chunk.length : newline + 1;
      yield chunk.subarray(start, end);
      start = end;
    }
  }
}
