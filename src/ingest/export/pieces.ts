import { open } from "node:fs/promises";

const PIECE_BYTES = 1 << 20;

/** The bytes of a file, a megabyte at a time, in one buffer that is used again: take what is to be kept out of it before the next piece. */
export async function* pieces(path: string): AsyncGenerator<Buffer> {
  const buffer = Buffer.allocUnsafe(PIECE_BYTES);
  const file = await open(path);
  try {
    for (;;) {
      const { bytesRead } = await file.read(buffer, 0, PIECE_BYTES, null);
      if (bytesRead === 0) return;
      yield buffer.subarray(0, bytesRead);
    }
  } finally {
    await file.close();
  }
}
