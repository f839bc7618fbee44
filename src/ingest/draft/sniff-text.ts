import { createReadStream } from "node:fs";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Fingerprint } from "../export/fingerprint.ts";
import { parseRecords } from "../export/parse-records.ts";
import type { Reading } from "../export/reading.ts";
import { looksOf } from "../export/sniff.ts";
import { counted, shown } from "./shown.ts";

export type Encoding = Reading["encoding"];
export type Sniffed<Value> = { value: Value; evidence: string };

const HEAD_BYTES = 1 << 18;

/** The first bytes of a file, 256 KB at most. */
export async function firstBytes(path: string): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of createReadStream(path, { end: HEAD_BYTES - 1 })) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

/** Encoding of a text by its byte order mark, by being UTF-8 as a whole, else windows-1252, of which ISO 8859-1 is the printable part. */
export function sniffEncoding(head: Buffer, { utf8, zeros }: Pick<Fingerprint, "utf8" | "zeros">): Sniffed<Encoding> {
  const looks = looksOf(head);
  if (looks === "utf-16 marked") return { value: "utf-16", evidence: "byte order mark of UTF-16" };
  if (looks === "utf-8 marked") return { value: "utf-8", evidence: "byte order mark of UTF-8" };
  if (zeros && isWide(head)) return { value: "utf-16", evidence: "zero bytes, as letters have in UTF-16" };
  if (utf8) return { value: "utf-8", evidence: "all bytes are UTF-8" };
  const at = head.findIndex((byte) => byte >= 0x80);
  const from = Math.max(0, at - 12);
  const example =
    at < 0
      ? ""
      : `, as ${shown(
          decoded(head.subarray(from, at + 8), "windows-1252")
            .split(/[\r\n]/)
            .at(-1) ?? "",
        )}`;
  return { value: "windows-1252", evidence: `not UTF-8; its letters beyond ASCII read as Windows-1252${example}` };
}

/** A letter of UTF-16 has a zero byte; a stray one in another text is a fault that reading it will name. */
function isWide(head: Buffer): boolean {
  return head.reduce((zeros, byte) => zeros + Number(byte === 0), 0) * 4 > head.length;
}

/** Bytes as text. */
export function decoded(bytes: Buffer, encoding: Encoding): string {
  if (encoding !== "utf-16") return new TextDecoder(encoding === "utf-8" ? "utf-8" : "windows-1252").decode(bytes);
  const big = bytes[0] === 0xfe || (bytes[0] === 0 && bytes[1] !== 0);
  return new TextDecoder(big ? "utf-16be" : "utf-16le").decode(bytes);
}

const DELIMITERS: Record<string, string> = { ",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars" };

/** The delimiter that cuts most of the first records into the same number of cells, and into most cells. */
export async function sniffDelimiter(head: string, scratch: string): Promise<Sniffed<string>> {
  const path = join(scratch, "head.txt");
  const whole = head.length < HEAD_BYTES / 2 ? head : head.slice(0, head.lastIndexOf("\n") + 1) || head;
  await writeFile(path, whole);
  let best = { value: ",", evidence: "no delimiter cuts its lines into cells; a comma is taken", score: 0 };
  for (const [value, words] of Object.entries(DELIMITERS)) {
    const { records, width, alike } = await cutBy(path, value);
    const score = width < 2 ? 0 : (alike / records) ** 2 * Math.log2(width + 1);
    if (score > best.score)
      best = {
        value,
        evidence: `${words} cut ${alike} of the first ${counted(records, "line")} into ${width} cells`,
        score,
      };
  }
  return best;
}

async function cutBy(path: string, delimiter: string): Promise<{ records: number; width: number; alike: number }> {
  const widths = new Map<number, number>();
  let records = 0;
  for await (const { cells } of parseRecords(path, delimiter)) {
    widths.set(cells.length, (widths.get(cells.length) ?? 0) + 1);
    if (++records === 1000) break;
  }
  const [width, alike] = [...widths].sort((a, b) => b[1] - a[1])[0] ?? [0, 0];
  return { records, width, alike };
}
