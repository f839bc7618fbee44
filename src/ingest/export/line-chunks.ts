import { createReadStream } from "node:fs";
import { RECORD_BYTES } from "./limits.ts";

const NEWLINE = 0x0a;
const CHUNK_BYTES = 1 << 20;

/**
 * The bytes of a file in pieces that end after a line feed (the last: with the file), so that no character is cut in two.
 * A line longer than a record may be comes in several pieces.
 */
export async function* lineChunks(path: string): AsyncGenerator<Buffer> {
  let carried: Buffer[] = [];
  let size = 0;
  for await (const read of createReadStream(path, { highWaterMark: CHUNK_BYTES })) {
    const piece = read as Buffer;
    const newline = piece.lastIndexOf(NEWLINE) + 1;
    const end = newline === 0 && size + piece.length > RECORD_BYTES ? piece.length : newline;
    if (end > 0) yield Buffer.concat([...carried, piece.subarray(0, end)]);
    carried = end > 0 ? [piece.subarray(end)] : [...carried, piece];
    size = end > 0 ? piece.length - end : size + piece.length;
  }
  if (size > 0) yield Buffer.concat(carried);
}
