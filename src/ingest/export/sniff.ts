import { open } from "node:fs/promises";

/** What the first bytes of a file say that it is. */
export type Looks =
  | "gzip"
  | "zip"
  | "parquet"
  | "old workbook"
  | "pdf"
  | "web page"
  | "json"
  | "utf-16 marked"
  | "utf-8 marked"
  | "text";

const HEAD_BYTES = 4096;

/** The first bytes of a file, 4,096 at most. */
export async function headOf(path: string): Promise<Buffer> {
  const file = await open(path);
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(HEAD_BYTES), 0, HEAD_BYTES, 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await file.close();
  }
}

// Signatures: RFC 1952 (gzip), the zip and Parquet file formats, compound files (old or encrypted workbooks), PDF.
const SIGNATURES: [string, Looks][] = [
  ["1f8b", "gzip"],
  ["504b0304", "zip"],
  ["504b0506", "zip"],
  ["50415231", "parquet"],
  ["d0cf11e0a1b11ae1", "old workbook"],
  ["25504446", "pdf"],
  ["fffe", "utf-16 marked"],
  ["feff", "utf-16 marked"],
];

export function looksOf(head: Buffer): Looks {
  const hex = head.subarray(0, 8).toString("hex");
  const signed = SIGNATURES.find(([signature]) => hex.startsWith(signature));
  if (signed !== undefined) return signed[1];
  const marked = hex.startsWith("efbbbf");
  const text = head.toString("latin1", marked ? 3 : 0).trimStart();
  if (/^<(!doctype|html|head|meta|body|table|\?xml)/i.test(text)) return "web page";
  if (/^(\{\s*["}]|\[\s*[{\]])/.test(text)) return "json";
  return marked ? "utf-8 marked" : "text";
}
