import type { Scope, Source } from "./scope.ts";

/** The command line that lists the records behind an answer: the same conditions, on the rows. */
export function rowsCommand(table: "life" | "installation", scope: Scope, source: Source): string {
  const conditions = [
    ...(["fleet", "slot"] as const).flatMap((name) => {
      const value = scope[name];
      return value === undefined ? [] : [`${name} = '${value.replaceAll("'", "''")}'`];
    }),
    ...(scope.where === undefined ? [] : [`(${scope.where})`]),
  ];
  const where = conditions.length === 0 ? "" : ` where ${conditions.join(" and ")}`;
  const sql = `select * from ${source.kind === "table" ? "plain" : table}${where}`;
  if (source.kind === "table") return `framelife query --from ${shellWord(source.table.path)} ${shellWord(sql)}`;
  return `framelife query --as-of ${source.asOf} ${shellWord(sql)}`;
}

function shellWord(text: string): string {
  return /^[\w./:-]+$/.test(text) ? text : `"${text.replaceAll(/(["\\$`])/g, "\\$1")}"`;
}
