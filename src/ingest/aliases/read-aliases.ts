import { existsSync } from "node:fs";
import { join } from "node:path";
import { fault, type HandRow, readHandTable } from "../hand-table.ts";
import { nearest } from "../mapping/nearest.ts";
import { ALIASES_FILE, type Alias } from "./alias.ts";

export const ALIAS_COLUMNS = ["fleet", "unit", "is", "accept", "because"] as const;
type Column = (typeof ALIAS_COLUMNS)[number];

/**
 * The aliases of the workspace in `folder`; none without the file.
 * @throws UserError with line and remedy if a line can't be meant so
 */
export async function readAliases(folder: string, fleets: string[]): Promise<Alias[]> {
  const path = join(folder, ALIASES_FILE);
  if (!existsSync(path)) return [];
  const { rows } = await readHandTable(path, ALIASES_FILE, ALIAS_COLUMNS);
  return rows.map((row) => checked(row, fleets));
}

function checked({ line, cells }: HandRow<Column>, fleets: string[]): Alias {
  const { fleet, unit, is } = cells;
  if (!fleets.includes(fleet)) {
    throw fault(
      ALIASES_FILE,
      line,
      `the workspace has no fleet "${fleet}"; did you mean "${nearest(fleet, fleets)}"? Its fleets are ${fleets.join(", ")}`,
    );
  }
  if (unit === "" || is === "") throw fault(ALIASES_FILE, line, `${unit === "" ? "unit" : "is"} is blank; fill it in`);
  if (unit === is) throw fault(ALIASES_FILE, line, `"${unit}" is itself already; take the line out`);
  const accept = cells.accept.toLowerCase();
  if (accept !== "yes" && accept !== "no" && accept !== "") {
    throw fault(ALIASES_FILE, line, `accept is "${cells.accept}"; write yes or no, or leave it blank`);
  }
  return { line, fleet, unit, is, accept };
}
