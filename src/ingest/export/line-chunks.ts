import { createReadStream } from "node:fs";

const NEWLINE = 0x0a;
const CHUNK_BYTES = 1 << 20;

/** The bytes of a file in pieces that end after a line feed (the last: with the file), so that no character is cut in two. */
export async function* lineChunks(path: string): AsyncGenerator<Buffer> {
  let carried: Buffer[] = [];
  for await (const read of createReadStream(path, { highWaterMark: CHUNK_BYTES })) {
    const piece = read as Buffer;
    const end = piece.lastIndexOf(NEWLINE) + 1;
    if (end === 0) {
      carried.push(piece);
      continue;
    }
    const head = piece.subarray(0, end);
    yield carried.length === 0 ? head : Buffer.concat([...carried, head]);
    carried = end < piece.length ? [piece.subarray(end)] : [];
  }
  if (carried.length > 0) yield Buffer.concat(carried);
}
