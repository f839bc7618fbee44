import { createReadStream, createWriteStream } from "node:fs";
import { open } from "node:fs/promises";
import { Transform } from "node:stream";
import { pipeline } from "node:stream/promises";

export type ForeignEncoding = "latin-1" | "utf-16" | "windows-1252";

// Bytes 80-9F as the spreadsheets that write "latin-1" mean them (code page windows-1252, WHATWG Encoding Standard, index
// windows-1252); in ISO 8859-1 itself they are control characters that no export holds.
const WINDOWS = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

/** Writes a UTF-8 copy of a text in another encoding. UTF-16 follows its byte order mark, little-endian without one. */
export async function decodeExport(from: string, encoding: ForeignEncoding, to: string): Promise<void> {
  const decode = encoding !== "utf-16" ? latinDecoder() : await wideDecoder(from);
  await pipeline(createReadStream(from, { highWaterMark: 1 << 20 }), decode, createWriteStream(to));
}

function latinDecoder(): Transform {
  return new Transform({
    transform(chunk: Buffer, _encoding, done) {
      const text = chunk.toString("latin1");
      done(
        null,
        text.replace(/[\u0080-\u009f]/g, (byte) => WINDOWS.charAt(byte.charCodeAt(0) - 0x80)),
      );
    },
  });
}

async function wideDecoder(path: string): Promise<Transform> {
  const file = await open(path);
  const { buffer } = await file.read(Buffer.alloc(2), 0, 2, 0);
  await file.close();
  const decoder = new TextDecoder(buffer[0] === 0xfe && buffer[1] === 0xff ? "utf-16be" : "utf-16le");
  return new Transform({
    transform: (chunk: Buffer, _encoding, done) => done(null, decoder.decode(chunk, { stream: true })),
    flush: (done) => done(null, decoder.decode()),
  });
}
