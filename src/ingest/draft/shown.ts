// What ends a line of YAML, or is obeyed by a terminal instead of shown.
const OBEYED = /[\p{Cc}\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/gu;
const MOST = 60;

/** A text of an export in quotes, on one line whatever stands in it, cut where it is long. */
export function shown(text: string): string {
  const cut = text.length > MOST ? `${text.slice(0, MOST)}...` : text;
  return plainLine(JSON.stringify(cut));
}

/** A text with every character escaped that would end the line or command a terminal. */
export function plainLine(text: string): string {
  return text.replace(OBEYED, (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

/** The files of an export, and of a workbook the sheets, where not all are meant. */
export function exportWords(files: string[], sheets: string[] = []): string {
  const of =
    sheets.length === 0
      ? ""
      : `, ${sheets.length === 1 ? "sheet" : "sheets"} ${sheets.map((sheet) => `"${sheet}"`).join(", ")}`;
  return `${files.join(", ")}${of}`;
}

/** A column as words of a draft call it. */
export function columnName(header: string, place: number): string {
  return header === "" ? `column ${place}` : `column ${shown(header)}`;
}

/** Columns by their headers on one line, the first few of many. */
export function columnList(columns: { header: string; place: number }[]): string {
  const most = 12;
  const names = columns.slice(0, most).map(({ header, place }) => (header === "" ? `column ${place}` : shown(header)));
  return columns.length > most ? `${names.join(", ")} and ${columns.length - most} more` : names.join(", ");
}

/** A share in words: "97 %", never 100 % of what is not all. */
export function percent(part: number, whole: number): string {
  if (whole === 0) return "0 %";
  const share = (100 * part) / whole;
  return `${part === whole ? 100 : Math.min(99, Math.round(share))} %`;
}

/** A number of things: "1 cell", "2 cells". */
export function counted(count: number, word: string): string {
  return `${count.toLocaleString("en-US")} ${count === 1 ? word : `${word}s`}`;
}

/** A number of things with what they do: "1 cell is", "2 cells are". */
export function countedAs(count: number, word: string, one: string, many: string): string {
  return `${counted(count, word)} ${count === 1 ? one : many}`;
}
