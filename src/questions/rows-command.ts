import { quoteIdentifier } from "../store/quote.ts";
import type { Scope, Source } from "./scope.ts";

/** The command line that lists the records behind an answer: the same conditions, on the rows. */
export function rowsCommand(
  table: "life" | "installation" | "built",
  scope: Pick<Scope, "fleet" | "slot" | "where">,
  source: Source,
): string {
  const conditions = [
    ...(["fleet", "slot"] as const).flatMap((name) => {
      const value = scope[name];
      return value === undefined ? [] : [`${name} = '${value.replaceAll("'", "''")}'`];
    }),
    ...(scope.where === undefined ? [] : [`(${scope.where})`]),
  ];
  const where = conditions.length === 0 ? "" : ` where ${conditions.join(" and ")}`;
  const from = source.kind === "table" ? plainOf(source.table.columns, scope.where) : table;
  const sql = `select * from ${from}${where}`;
  if (source.kind === "table") return `framelife query --from ${shellWord(source.table.path)} ${shellWord(sql)}`;
  return `${framelife("query", source.folder)} --as-of ${source.asOf} ${shellWord(sql)}`;
}

/** A condition names columns as the command does, not as the table's headers. */
function plainOf(renamed: Record<string, string>, where: string | undefined): string {
  const names = where === undefined ? [] : Object.entries(renamed);
  if (names.length === 0) return "plain";
  const also = names.map(([name, header]) => `${quoteIdentifier(header)} as ${quoteIdentifier(name)}`);
  return `(select *, ${also.join(", ")} from plain)`;
}

/** A command of the program as a person would type it, with the workspace where one was named. */
export function framelife(command: string, folder: string | undefined): string {
  return folder === undefined ? `framelife ${command}` : `framelife --workspace ${shellWord(folder)} ${command}`;
}

/** A word as a shell takes it literally. */
export function shellWord(text: string): string {
  return /^[\w./:-]+$/.test(text) ? text : `"${text.replaceAll(/(["\\$`])/g, "\\$1")}"`;
}
