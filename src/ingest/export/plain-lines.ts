import { RECORD_BYTES } from "./limits.ts";
import { pieces } from "./pieces.ts";

/** The lines of a plain text: how many, the most cells in one, and the first that is longer than a record may be. */
export type PlainLines = { records: number; widest: number; tooLong?: number };

const NEWLINE = 0x0a;

/** Counts the lines and cells of a text in which each line is a record: no quotes, no carriage returns, no empty lines. */
export async function plainLines(path: string, delimiter: string): Promise<PlainLines> {
  const count: Count = { records: 0, widest: 0, cells: 1, open: 0 };
  for await (const piece of pieces(path)) {
    countIn(piece, delimiter.charCodeAt(0), count);
    if (count.open > RECORD_BYTES) return { records: count.records, widest: count.widest, tooLong: count.records + 1 };
  }
  const { records, widest, cells, open } = count;
  return open === 0 ? { records, widest } : { records: records + 1, widest: Math.max(widest, cells) };
}

/** `cells` and `open`, in bytes, are of the line that has not ended. */
type Count = { records: number; widest: number; cells: number; open: number };

function countIn(chunk: Buffer, mark: number, count: Count): void {
  let { records, widest, cells } = count;
  const high = Math.max(mark, NEWLINE);
  let start = -count.open;
  for (let at = 0; at < chunk.length; at++) {
    const byte = chunk[at]!;
    if (byte > high) continue; // nearly all: a tenth quicker
    if (byte === mark) cells++;
    else if (byte === NEWLINE) {
      if (cells > widest) widest = cells;
      cells = 1;
      start = at + 1;
      records++;
    }
  }
  Object.assign(count, { records, widest, cells, open: chunk.length - start });
}
