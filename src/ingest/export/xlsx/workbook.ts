import { posix } from "node:path";
import { UserError } from "../../../errors.ts";
import { headOf, looksOf } from "../sniff.ts";
import { readXml } from "./read-xml.ts";
import { damagedWorkbook, ZipParts } from "./zip-parts.ts";

/** The plan of a workbook. Close it. */
export type Workbook = {
  parts: ZipParts;
  /** In the order of the tabs. */
  sheets: { name: string; part: string }[];
  dateSystem: 1900 | 1904;
  styles?: string;
  sharedStrings?: string;
};

/**
 * @throws UserError if the file is no workbook, a locked one, one of another kind, or damaged
 * @see ECMA-376, parts 1 and 2; relations are known by the last word of their type, the same in the strict and the transitional form
 */
export async function openBook(path: string, shownPath: string): Promise<Workbook> {
  await refuseOther(path, shownPath);
  const parts = await ZipParts.open(path, shownPath);
  try {
    return await planOf(parts, shownPath);
  } catch (error) {
    parts.close();
    throw error;
  }
}

async function refuseOther(path: string, shownPath: string): Promise<void> {
  const words = {
    zip: undefined,
    gzip: "packed with gzip; unpack it, for a workbook is packed already",
    parquet: 'a Parquet file; set "format: parquet" in its pipeline',
    "old workbook":
      "a workbook of the old binary kind (.xls), or one locked by a password; save it as .xlsx without a password",
    pdf: "a PDF file; export the records as a spreadsheet",
    "web page":
      "a web page or XML under another name, as some programs write for spreadsheets; open it in a spreadsheet and save it as .xlsx",
    json: 'JSON; set "format: json" in its pipeline, or "format: ndjson" where each line is a record',
    "utf-16 marked": 'a text in UTF-16; set "format: csv" and "encoding: utf-16" in its pipeline',
    "utf-8 marked": 'a text; set "format: csv" in its pipeline',
    text: 'a text, or a workbook whose beginning is damaged; set "format: csv" in its pipeline if it is a text, or save it as .xlsx again',
  }[looksOf(await headOf(path))];
  if (words !== undefined) throw new UserError(`Cannot read ${shownPath} as xlsx: it is ${words}`);
}

type Relation = { type: string; target: string };

async function planOf(parts: ZipParts, shownPath: string): Promise<Workbook> {
  const top = [...(await relationsOf(parts, "", shownPath)).values()].find(({ type }) => type === "officeDocument");
  if (top === undefined || top.target.endsWith(".bin")) throw otherZip(parts, top, shownPath);
  const relations = await relationsOf(parts, top.target, shownPath);
  const book: Workbook = { parts, sheets: [], dateSystem: 1900 };
  await readXml(
    parts,
    { name: top.target, shownPath },
    {
      open: (name, attributes) => {
        if (name === "sheet") book.sheets.push(sheetOf(attributes, relations, shownPath));
        else if (name === "workbookPr" && /^(1|true|on)$/.test(attributes["date1904"] ?? "")) book.dateSystem = 1904;
      },
    },
  );
  for (const { type, target } of relations.values()) {
    if (type === "styles") book.styles = target;
    else if (type === "sharedStrings") book.sharedStrings = target;
  }
  if (book.sheets.length === 0) throw damagedWorkbook(shownPath, "it names no sheets");
  return book;
}

function sheetOf(
  attributes: Record<string, string>,
  relations: Map<string, Relation>,
  shownPath: string,
): Workbook["sheets"][number] {
  const name = attributes["name"] ?? "";
  const id = Object.entries(attributes).find(([key]) => /(^|:)id$/.test(key))?.[1] ?? "";
  const relation = relations.get(id);
  if (relation === undefined) throw damagedWorkbook(shownPath, `sheet "${name}" has no part`);
  return { name, part: relation.type === "worksheet" ? relation.target : "" };
}

/** The relations of a part, by their ids, with the names of their parts; of the whole file for "". */
async function relationsOf(parts: ZipParts, part: string, shownPath: string): Promise<Map<string, Relation>> {
  const folder = posix.dirname(part);
  const name = posix.join(folder, "_rels", `${posix.basename(part)}.rels`);
  const found = new Map<string, Relation>();
  if (!parts.has(name)) return found;
  await readXml(
    parts,
    { name, shownPath },
    {
      open: (element, { Id: id, Type: type = "", Target: target = "" }) => {
        if (element !== "Relationship" || id === undefined) return;
        found.set(id, {
          type: posix.basename(type),
          target: posix.join("/", folder, pathFrom(folder, target)).slice(1),
        });
      },
    },
  );
  return found;
}

/** A target beginning with "/" counts from the top. */
function pathFrom(folder: string, target: string): string {
  return target.startsWith("/") ? posix.relative(posix.join("/", folder), target) : target;
}

function otherZip(parts: ZipParts, top: Relation | undefined, shownPath: string): UserError {
  const words =
    top !== undefined
      ? "a binary workbook (.xlsb)"
      : parts.has("content.xml")
        ? "an OpenDocument spreadsheet"
        : "a zip file without a workbook in it";
  return new UserError(`Cannot read ${shownPath} as xlsx: it is ${words}; save it as .xlsx, or unpack it`);
}
