import { UserError } from "../../errors.ts";
import { fileFault } from "./file-fault.ts";
import { openBook } from "./xlsx/workbook.ts";

/**
 * Names of the sheets that a pipeline's `sheet` chooses in a workbook: names, in which `*` stands for any letters and `?` for one, case
 * not counting, or places from 1; in the workbook's order for each.
 * @throws UserError naming the sheets that there are
 */
export async function chosenSheets(path: string, shownPath: string, wanted: (string | number)[]): Promise<string[]> {
  const names = await sheetNames(path, shownPath);
  const chosen = wanted.flatMap((key) => {
    const found = names.filter((name, index) => (typeof key === "number" ? index === key - 1 : likeIt(key).test(name)));
    if (found.length > 0) return found;
    const key1 = typeof key === "number" ? `number ${key}` : `"${key}"`;
    throw new UserError(
      `Cannot read ${shownPath}: it has no sheet ${key1}; its sheets are ${names.map((name) => `"${name}"`).join(", ")}; correct "sheet" in its pipeline`,
    );
  });
  return [...new Set(chosen)];
}

async function sheetNames(path: string, shownPath: string): Promise<string[]> {
  try {
    const book = await openBook(path, shownPath);
    book.parts.close();
    return book.sheets.map(({ name }) => name);
  } catch (error) {
    throw fileFault(shownPath, error);
  }
}

function likeIt(pattern: string): RegExp {
  const source = pattern
    .trim()
    .replace(/[.+^${}()|[\]\\]/g, "\\$&")
    .replaceAll("*", ".*")
    .replaceAll("?", ".");
  return new RegExp(`^\\s*${source}\\s*$`, "isu");
}
