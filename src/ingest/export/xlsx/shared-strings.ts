import { readXml } from "./read-xml.ts";
import type { Workbook } from "./workbook.ts";

/** The texts that cells of all sheets refer to by number. */
export async function sharedStrings({ parts, sharedStrings: name }: Workbook, shownPath: string): Promise<string[]> {
  const strings: string[] = [];
  if (name === undefined) return strings;
  let text = "";
  let wanted = false;
  let spoken = 0; // how deep inside <rPh>, the reading aid of a text, which is no part of it
  await readXml(
    parts,
    { name, shownPath },
    {
      open: (element) => {
        if (element === "si") text = "";
        else if (element === "rPh") spoken++;
        else if (element === "t") wanted = spoken === 0;
      },
      text: (piece) => {
        if (wanted) text += piece;
      },
      close: (element) => {
        if (element === "t") wanted = false;
        else if (element === "rPh") spoken--;
        else if (element === "si") strings.push(unescaped(text));
      },
    },
  );
  return strings;
}

/** Characters that XML can't hold are written _xHHHH_ (ECMA-376, part 1, 22.9.2.19). */
export function unescaped(text: string): string {
  if (!text.includes("_x")) return text;
  return text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));
}
