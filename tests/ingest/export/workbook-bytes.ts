import { zipBytes } from "./zip-bytes.ts";

export type Sheet = { name: string; rows: string; merged?: string[] };
export type Book = {
  sheets: Sheet[];
  date1904?: boolean;
  /** Format codes, or numbers of built-in formats: style 1, 2, ... */
  formats?: (string | number)[];
  strings?: string[];
};

const MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"';
const RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

function escaped(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
}

/** A row of texts and numbers as a sheet's XML; an empty text is no cell. */
export function rowXml(number: number, cells: (string | number)[]): string {
  const xml = cells.map((cell, index) => {
    const place = `${columnName(index)}${number}`;
    if (cell === "") return "";
    return typeof cell === "number"
      ? `<c r="${place}"><v>${cell}</v></c>`
      : `<c r="${place}" t="inlineStr"><is><t xml:space="preserve">${escaped(cell)}</t></is></c>`;
  });
  return `<row r="${number}">${xml.join("")}</row>`;
}

function columnName(index: number): string {
  return index < 26 ? String.fromCharCode(65 + index) : columnName(Math.floor(index / 26) - 1) + columnName(index % 26);
}

/** The parts of a workbook. */
export function bookParts({ sheets, date1904 = false, formats = [], strings = [] }: Book): Record<string, string> {
  const named = sheets.map(
    ({ name }, index) => `<sheet name="${escaped(name)}" sheetId="${index + 1}" r:id="s${index}"/>`,
  );
  const relation = (id: string, type: string, target: string) =>
    `<Relationship Id="${id}" Type="${RELATIONS}/${type}" Target="${target}"/>`;
  const relations = (all: string[]) =>
    `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${all.join("")}</Relationships>`;
  const codes = formats.flatMap((format, index) =>
    typeof format === "string" ? [`<numFmt numFmtId="${200 + index}" formatCode="${escaped(format)}"/>`] : [],
  );
  const styles = formats.map(
    (format, index) => `<xf numFmtId="${typeof format === "number" ? format : 200 + index}"/>`,
  );
  return {
    "[Content_Types].xml": '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>',
    "_rels/.rels": relations([relation("b", "officeDocument", "xl/workbook.xml")]),
    "xl/_rels/workbook.xml.rels": relations([
      ...sheets.map((_, index) => relation(`s${index}`, "worksheet", `worksheets/sheet${index + 1}.xml`)),
      relation("t", "styles", "/xl/styles.xml"),
      relation("u", "sharedStrings", "sharedStrings.xml"),
    ]),
    "xl/workbook.xml": `<workbook ${MAIN} xmlns:r="${RELATIONS}"><workbookPr${date1904 ? ' date1904="1"' : ""}/><sheets>${named.join("")}</sheets></workbook>`,
    "xl/styles.xml": `<styleSheet ${MAIN}><numFmts>${codes.join("")}</numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/>${styles.join("")}</cellXfs></styleSheet>`,
    "xl/sharedStrings.xml": `<sst ${MAIN}>${strings.map((string) => `<si>${string}</si>`).join("")}</sst>`,
    ...Object.fromEntries(
      sheets.map(({ rows, merged = [] }, index) => [
        `xl/worksheets/sheet${index + 1}.xml`,
        `<?xml version="1.0" encoding="UTF-8"?>\n<worksheet ${MAIN}><sheetData>${rows}</sheetData>${
          merged.length === 0
            ? ""
            : `<mergeCells>${merged.map((ref) => `<mergeCell ref="${ref}"/>`).join("")}</mergeCells>`
        }</worksheet>`,
      ]),
    ),
  };
}

export function bookBytes(book: Book): Buffer {
  return zipBytes(bookParts(book));
}
