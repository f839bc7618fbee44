import { isAscii, isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { fileFault } from "./file-fault.ts";
import { pieces } from "./pieces.ts";

/** What one reading of a file's bytes tells. */
export type Fingerprint = {
  sha256: string;
  bytes: number;
  /** All of it is UTF-8. */
  utf8: boolean;
  /** All of it is ASCII. */
  ascii: boolean;
  /** A byte of it is zero, as in no text but UTF-16. */
  zeros: boolean;
  /** A number sign stands in it, with which a spreadsheet's errors begin. */
  numberSigns: boolean;
  /** No quotes, no carriage returns, no empty lines: each line is a record, and nothing need be scanned. */
  plain: boolean;
};

const QUOTE = 0x22;
const NUMBER_SIGN = 0x23;
const RETURN = 0x0d;
const NEWLINE = 0x0a;
const EMPTY_LINE = Buffer.from("\n\n");

/**
 * Reads the file once, a piece at a time; the hash is of the bytes as they are, whatever their encoding.
 * @throws UserError if the file can't be read; `shownPath` is what messages call it
 */
export async function fingerprint(path: string, shownPath = path): Promise<Fingerprint> {
  const hash = createHash("sha256");
  const look = new Look();
  try {
    for await (const piece of pieces(path)) {
      hash.update(piece);
      look.at(piece);
    }
  } catch (error) {
    throw fileFault(shownPath, error);
  }
  return { sha256: hash.digest("hex"), ...look.end() };
}

class Look {
  private bytes = 0;
  private utf8 = true;
  private ascii = true;
  private zeros = false;
  private plain = true;
  private numberSigns = false;
  private last = NEWLINE;
  /** First bytes of a character that the next piece ends. */
  private cut: Buffer = Buffer.alloc(0);

  at(chunk: Buffer): void {
    this.bytes += chunk.length;
    this.plain &&=
      !(this.last === NEWLINE && chunk[0] === NEWLINE) &&
      !chunk.includes(QUOTE) &&
      !chunk.includes(RETURN) &&
      !chunk.includes(EMPTY_LINE);
    this.last = chunk.at(-1) ?? this.last;
    this.zeros ||= chunk.includes(0);
    this.numberSigns ||= chunk.includes(NUMBER_SIGN);
    this.ascii &&= isAscii(chunk);
    if (this.utf8) this.characters(this.cut.length === 0 ? chunk : Buffer.concat([this.cut, chunk]));
  }

  end(): Omit<Fingerprint, "sha256"> {
    const { bytes, utf8, ascii, zeros, numberSigns, plain } = this;
    return { bytes, utf8: utf8 && this.cut.length === 0, ascii, zeros, numberSigns, plain };
  }

  private characters(bytes: Buffer): void {
    const whole = bytes.length - cutCharacter(bytes);
    this.utf8 = isUtf8(bytes.subarray(0, whole));
    this.cut = Buffer.from(bytes.subarray(whole));
  }
}

/** How many bytes at the end begin a character that is not whole, by the length that its first byte tells (RFC 3629). */
function cutCharacter(bytes: Buffer): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back++) {
    const length = lengthBy(bytes[bytes.length - back]!);
    if (length !== undefined) return length > back ? back : 0;
  }
  return 0;
}

/** Bytes of the character that a byte begins; undefined for one inside a character. */
function lengthBy(byte: number): number | undefined {
  if (byte < 0x80) return 1;
  if (byte < 0xc0) return undefined;
  return byte < 0xe0 ? 2 : byte < 0xf0 ? 3 : 4;
}
