import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { lineChunks } from "./line-chunks.ts";

/** What one reading of a file's bytes tells. */
export type Fingerprint = {
  sha256: string;
  bytes: number;
  /** First line that is not UTF-8, from 1; none if all is. */
  foreignLine?: number;
  /** No quotes, no carriage returns, no empty lines: each line is a record, and nothing need be scanned. */
  plain: boolean;
};

const QUOTE = 0x22;
const RETURN = 0x0d;
const NEWLINE = 0x0a;
const EMPTY_LINE = Buffer.from("\n\n");

/** Reads the file once; the hash is of the bytes as they are, whatever their encoding. */
export async function fingerprint(path: string): Promise<Fingerprint> {
  const hash = createHash("sha256");
  let bytes = 0;
  let plain = true;
  let foreignLine: number | undefined;
  for await (const chunk of lineChunks(path)) {
    hash.update(chunk);
    bytes += chunk.length;
    plain &&= !chunk.includes(QUOTE) && !chunk.includes(RETURN) && !chunk.includes(EMPTY_LINE) && chunk[0] !== NEWLINE;
    if (foreignLine === undefined && !isUtf8(chunk)) foreignLine = await lineOfFirstForeignByte(path);
  }
  const known = { sha256: hash.digest("hex"), bytes, plain };
  return foreignLine === undefined ? known : { ...known, foreignLine };
}

async function lineOfFirstForeignByte(path: string): Promise<number> {
  let line = 1;
  for await (const chunk of lineChunks(path)) {
    for (let start = 0; start < chunk.length; line++) {
      const newline = chunk.indexOf(NEWLINE, start);
      const end = newline < 0 ? chunk.length : newline + 1;
      if (!isUtf8(chunk.subarray(start, end))) return line;
      start = end;
    }
  }
  return line;
}
