import { createReadStream, createWriteStream } from "node:fs";
import { Transform } from "node:stream";
import { pipeline } from "node:stream/promises";
import { UserError } from "../../errors.ts";
import { headOf } from "./sniff.ts";

export type ForeignEncoding = "latin-1" | "utf-16" | "windows-1252";

// Bytes 80-9F as the spreadsheets that write "latin-1" mean them (code page windows-1252, WHATWG Encoding Standard, index
// windows-1252); in ISO 8859-1 itself they are control characters that no export holds.
const WINDOWS = "€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ";

/**
 * Writes a UTF-8 copy of a text in another encoding. UTF-16 follows its byte order mark; without one, the side on which most zero
 * bytes stand, for the letters of a delimited text have one each.
 * @throws UserError if the text is not in that encoding
 */
export async function decodeExport(
  from: string,
  encoding: ForeignEncoding,
  to: string,
  shownPath: string,
): Promise<void> {
  const decode = encoding !== "utf-16" ? latinDecoder() : wideDecoder(await wideOrder(from, shownPath), shownPath);
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

async function wideOrder(path: string, shownPath: string): Promise<"utf-16le" | "utf-16be"> {
  const head = await headOf(path);
  if (head[0] === 0xff && head[1] === 0xfe) return "utf-16le";
  if (head[0] === 0xfe && head[1] === 0xff) return "utf-16be";
  const zeros = [0, 0];
  for (const [at, byte] of head.entries()) if (byte === 0) zeros[at % 2]!++;
  if (zeros[0] === 0 && zeros[1] === 0) {
    throw new UserError(
      `Cannot read ${shownPath}: it is not UTF-16, for it begins with no byte order mark and its letters have one byte each; take "encoding: utf-16" out of its pipeline, or name the encoding that it is in`,
    );
  }
  return zeros[0]! > zeros[1]! ? "utf-16be" : "utf-16le";
}

function wideDecoder(order: "utf-16le" | "utf-16be", shownPath: string): Transform {
  const decoder = new TextDecoder(order, { fatal: true });
  const decoded = (chunk: Buffer | undefined, done: (error: Error | null, text?: string) => void) => {
    try {
      done(null, chunk === undefined ? decoder.decode() : decoder.decode(chunk, { stream: true }));
    } catch (error) {
      const message = `Cannot read ${shownPath}: its UTF-16 is damaged or cut off; copy it from where it came, or export it again`;
      done(new UserError(message, 1, { cause: error }));
    }
  };
  return new Transform({
    transform: (chunk: Buffer, _encoding, done) => decoded(chunk, done),
    flush: (done) => decoded(undefined, done),
  });
}
