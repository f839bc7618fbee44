import { builtInKind, type NumberKind, numberKind } from "./number-format.ts";
import { readXml } from "./read-xml.ts";
import type { Workbook } from "./workbook.ts";

/** What each cell style makes of a number, by the style's number. */
export async function numberKinds({ parts, styles: name }: Workbook, shownPath: string): Promise<NumberKind[]> {
  const kinds: NumberKind[] = [];
  if (name === undefined) return kinds;
  const spelled = new Map<number, NumberKind>();
  let inCells = false;
  await readXml(
    parts,
    { name, shownPath },
    {
      open: (element, attributes) => {
        if (element === "numFmt") {
          spelled.set(Number(attributes["numFmtId"]), numberKind(attributes["formatCode"] ?? ""));
        } else if (element === "cellXfs") inCells = true;
        else if (element === "xf" && inCells) {
          const id = Number(attributes["numFmtId"] ?? 0);
          kinds.push(spelled.get(id) ?? builtInKind(id));
        }
      },
      close: (element) => {
        if (element === "cellXfs") inCells = false;
      },
    },
  );
  return kinds;
}
