import { type SaxesAttributePlain, SaxesParser } from "saxes";
import { UserError } from "../../../errors.ts";
import { GATHERED_BYTES, megabytes } from "../limits.ts";
import { damagedWorkbook, type ZipParts } from "./zip-parts.ts";

/** What a reader of a part wants to hear of; names without their namespace's prefix. */
export type XmlReader = {
  open: (name: string, attributes: Record<string, string>) => void;
  text?: (text: string) => void;
  close?: (name: string) => void;
};

/**
 * Reads a part of a workbook, a piece at a time; entities that a document defines itself are refused, so that none can grow.
 * @param after - waited for after each piece
 * @throws UserError if the part isn't there or is no XML
 */
export async function readXml(
  parts: ZipParts,
  { name, shownPath }: { name: string; shownPath: string },
  reader: XmlReader,
  after?: () => Promise<void>,
): Promise<void> {
  const parser = new SaxesParser({ position: false });
  let since = 0;
  parser.on("opentag", (tag) => {
    since = 0;
    reader.open(local(tag.name), tag.attributes as Record<string, SaxesAttributePlain["value"]>);
  });
  parser.on("text", (text) => reader.text?.(text));
  parser.on("cdata", (text) => reader.text?.(text));
  parser.on("closetag", (tag) => {
    since = 0;
    reader.close?.(local(tag.name));
  });
  parser.on("error", (error) => {
    throw damagedWorkbook(shownPath, `${name}: ${error.message}`, error);
  });
  const decoder = new TextDecoder();
  for await (const chunk of parts.read(name)) {
    since += chunk.length;
    parser.write(decoder.decode(chunk, { stream: true }));
    if (since > GATHERED_BYTES + chunk.length) throw tooLong(shownPath, name);
    await after?.();
  }
  parser.write(decoder.decode()).close();
}

function tooLong(shownPath: string, name: string): UserError {
  return new UserError(
    `Cannot read ${shownPath}: a text in its part ${name} is over ${megabytes(GATHERED_BYTES)}, and a cell holds 32,767 characters; open it in a spreadsheet and save it again`,
  );
}

const locals = new Map<string, string>();

function local(name: string): string {
  const known = locals.get(name);
  if (known !== undefined) return known;
  const found = name.slice(name.indexOf(":") + 1);
  if (locals.size < 1000) locals.set(name, found);
  return found;
}
