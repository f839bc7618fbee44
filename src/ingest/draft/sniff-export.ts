import { createReadStream } from "node:fs";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../../errors.ts";
import type { EngineUse } from "../../store/engine.ts";
import { csvSource, sourceColumn } from "../export/csv-source.ts";
import { type Fingerprint, fingerprint } from "../export/fingerprint.ts";
import { type OpenExport, openExport } from "../export/open-export.ts";
import type { NumberedRecord } from "../export/parse-records.ts";
import { FORMATS, type Reading, readingOf } from "../export/reading.ts";
import { looksOf } from "../export/sniff.ts";
import { unpackGzip } from "../export/unpack-gzip.ts";
import { sniffHeader } from "./sniff-header.ts";
import { sniffLines, sniffRecords } from "./sniff-json.ts";
import { decoded, firstBytes, sniffDelimiter, sniffEncoding } from "./sniff-text.ts";

/** How a file is to be read, with what speaks for it. */
export type SniffedExport = {
  reading: Reading;
  evidence: string[];
  mark: Fingerprint /** Any encoding reads it alike. */;
  ascii: boolean;
};

export type FileToSniff = { path: string; shownPath: string; sheet?: string };

type Format = Reading["format"];

/** Format of a file by its first bytes, or by its ending where they are those of any text. */
export async function formatOf(path: string, shownPath: string): Promise<{ format: Format; evidence: string }> {
  const looks = looksOf(await firstBytes(path));
  const ending = /\.([^./\\]+)$/.exec(shownPath.replace(/\.gz$/i, ""))?.[1]?.toLowerCase() ?? "";
  const byEnding = FORMATS[ending];
  if (looks === "zip") return { format: "xlsx", evidence: "a zip file, as workbooks are" };
  if (looks === "parquet") return { format: "parquet", evidence: "begins as Parquet files do" };
  if (looks === "json") return { format: byEnding === "ndjson" ? "ndjson" : "json", evidence: "begins as JSON does" };
  if (byEnding !== undefined && byEnding !== "xlsx" && byEnding !== "parquet")
    return { format: byEnding, evidence: `a text; its name ends in .${ending}` };
  return { format: "csv", evidence: `a text; its ending, "${ending}", tells nothing more` };
}

/**
 * How a file is to be read: format, encoding, delimiter, rows of the header.
 * @param scratch - folder for temporary copies
 * @throws UserError if the file can't be read, or is empty
 */
export async function sniffExport(
  connection: DuckDBConnection,
  file: FileToSniff,
  scratch: string,
): Promise<SniffedExport> {
  const { path, shownPath, sheet } = file;
  const mark = await fingerprint(path, shownPath);
  if (mark.bytes === 0)
    throw new UserError(`Cannot draft a pipeline for ${shownPath}: the file is empty; export it again`);
  const isPacked = looksOf(await firstBytes(path)) === "gzip";
  const bare = isPacked ? join(scratch, "unpacked") : path;
  if (isPacked) await unpackGzip(path, shownPath, bare);
  const { format, evidence } = await formatOf(bare, shownPath);
  const isBinary = format === "xlsx" || format === "parquet";
  const bareMark = isPacked ? await fingerprint(bare, shownPath) : mark;
  const said = isBinary ? plain(format) : await text(format, { bare, shownPath, mark: bareMark, scratch });
  const ascii = !isBinary && (await isAscii(bare));
  const reading = readingOf({ decimal_mark: ".", ...said.reading }, shownPath, sheet);
  const found = [evidence, ...said.evidence];
  if (format === "parquet" || format === "json" || reading.format === "ndjson")
    return { reading, evidence: found, mark, ascii };
  const header = sniffHeader(await firstRecords(connection, { ...file, reading, mark, scratch }));
  return {
    reading: { ...reading, header: header.value },
    evidence: [...found, `header: ${header.evidence}`],
    mark,
    ascii,
  };
}

async function isAscii(path: string): Promise<boolean> {
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20 }))
    if ((chunk as Buffer).some((byte) => byte >= 0x80 || byte === 0)) return false;
  return true;
}

type Said = {
  reading: Pick<Reading, "format" | "encoding"> & { delimiter?: string; records?: string };
  evidence: string[];
};

function plain(format: Format): Said {
  return { reading: { format, encoding: "utf-8" }, evidence: [] };
}

async function text(
  format: Format,
  given: { bare: string; shownPath: string; mark: Fingerprint; scratch: string },
): Promise<Said> {
  const head = await firstBytes(given.bare);
  const encoding = sniffEncoding(head, given.mark);
  const words = decoded(head, encoding.value);
  const reading = { format, encoding: encoding.value };
  if (format === "ndjson" || (format === "json" && isLines(words))) {
    const records = sniffLines(words);
    return {
      reading: { ...reading, format: "ndjson", ...(records.value === undefined ? {} : { records: records.value }) },
      evidence: [encoding.evidence, records.evidence],
    };
  }
  if (format === "json") {
    const records = await sniffRecords(given.bare, given.shownPath, encoding.value);
    return {
      reading: { ...reading, ...(records.value === undefined ? {} : { records: records.value }) },
      evidence: [encoding.evidence, records.evidence],
    };
  }
  const delimiter = await sniffDelimiter(words, given.scratch);
  return { reading: { ...reading, delimiter: delimiter.value }, evidence: [encoding.evidence, delimiter.evidence] };
}

/** Each of the first lines is an object. */
function isLines(text: string): boolean {
  const lines = text
    .split("\n")
    .slice(0, 2)
    .map((line) => line.trim());
  return (
    lines.length > 1 &&
    lines.filter((line) => line !== "").length > 1 &&
    lines.every((line) => line.startsWith("{") && line.endsWith("}"))
  );
}

const FIRST = 80;

type ToOpen = FileToSniff & { reading: Reading; mark: Fingerprint; scratch: string; engine?: EngineUse };

/** Opens an export by a reading that was sniffed. */
export function openSniffed({ engine, ...given }: ToOpen): Promise<OpenExport> {
  const { path, shownPath, reading, mark, scratch } = given;
  return openExport({ path, shownPath, reading, wanted: [], mark, scratch, ...(engine && { engine }) });
}

/** The first records of a table with the numbers of their rows, no header taken away. */
async function firstRecords(connection: DuckDBConnection, file: ToOpen): Promise<NumberedRecord[]> {
  const open = await openSniffed({ ...file, reading: { ...file.reading, header: "none" } });
  try {
    const names = open.header.map((_, index) => sourceColumn(index));
    const read = await (
      await connection.run(`select ${names.join(", ")} from ${csvSource(open)} limit ${FIRST}`)
    ).getRows();
    const blanks = new Set(open.blanks);
    let number = 0;
    return read.map((cells) => {
      do number++;
      while (blanks.has(number));
      return { number, cells: cells.map((cell) => String(cell ?? "")) };
    });
  } finally {
    await open.close();
  }
}
