import { createWriteStream } from "node:fs";
import { pipeline } from "node:stream/promises";
import { OVERFLOW } from "./csv-source.ts";
import { parseRecords } from "./parse-records.ts";

/**
 * Writes a delimited text again, every cell in quotes, so that there is one way to read it. Cells beyond those that the reader looks at
 * are kept, as they stood, in the last one that it does.
 */
export async function rewriteTable(from: string, delimiter: string, columns: number, to: string): Promise<string> {
  const last = columns + OVERFLOW - 1;
  await pipeline(async function* () {
    for await (const { cells } of parseRecords(from, delimiter)) {
      const read = cells.length <= last + 1 ? cells : [...cells.slice(0, last), cells.slice(last).join(delimiter)];
      yield `${read.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(delimiter)}\n`;
    }
  }, createWriteStream(to));
  return to;
}
