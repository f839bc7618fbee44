import { Command } from "commander";
import { UserError } from "../errors.ts";
import { count } from "../questions/wording.ts";
import type { Cell } from "./csv-file.ts";
import { settingsOf } from "./open-records.ts";
import { printableJson } from "./printable.ts";
import { day } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type QueryOptions = { asOf?: string; from?: string; json?: true; csv?: string };

/** `framelife query SQL`: any question to the records, read-only. */
export function queryCommand(around: Surroundings): Command {
  const command = new Command("query")
    .description(
      "ask the store in SQL, read-only; the tables life, installation and built (what left the bench) are there as of the as-of date",
    )
    .argument("<sql>", "one SELECT over records.*, landing.*, quarantine.*, results.*, life, installation, built")
    .option("--as-of <date>", "day up to which life, installation and built look, YYYY-MM-DD", day)
    .option("--from <file>", "a plain table (csv or parquet) named plain, in place of the workspace")
    .option("--json", "print the rows as JSON")
    .option("--csv <file>", "write the rows to a CSV file");
  return command.action(async (sql: string, options: QueryOptions) => {
    if (options.from !== undefined && options.asOf !== undefined) {
      throw new UserError("Cannot use --as-of with --from: a plain table has no dates to look up to; leave it out", 2);
    }
    const { names, rows } =
      options.from === undefined
        ? await fromStore(around, command, sql, options)
        : await fromTable(around, options.from, sql);
    if (options.csv !== undefined) (await import("./csv-file.ts")).writeCsv(around.folder, options.csv, names, rows);
    if (options.json)
      around.print(
        printableJson(rows.map((row) => Object.fromEntries(row.map((cell, index) => [names[index], cell])))),
      );
    else if (options.csv === undefined) await printRows(around, names, rows);
  });
}

type Rows = { names: string[]; rows: Cell[][] };

async function fromStore(around: Surroundings, command: Command, sql: string, { asOf }: QueryOptions): Promise<Rows> {
  const workspace = await settingsOf(around, command);
  const [{ openStore }, { askSql }] = await Promise.all([
    import("../store/open-store.ts"),
    import("../store/ask-sql.ts"),
  ]);
  const store = await openStore(workspace.storePath, "read", around);
  try {
    if (asOf !== undefined || /\b(life|installation|built)\b/i.test(sql)) {
      const { readyLives } = await import("../lives/kept-lives.ts");
      await readyLives(store.connection, {
        configuration: workspace.configuration,
        built: /\bbuilt\b/i.test(sql),
        ...(asOf === undefined ? {} : { asOf }),
      });
    }
    return await askSql(store.connection, sql);
  } finally {
    store.close();
  }
}

async function fromTable(around: Surroundings, file: string, sql: string): Promise<Rows> {
  const [{ openPlainTable }, { askSql }] = await Promise.all([
    import("../lives/plain-table.ts"),
    import("../store/ask-sql.ts"),
  ]);
  const table = await openPlainTable(around.folder, file, around);
  try {
    return await askSql(table.connection, sql);
  } finally {
    table.close();
  }
}

async function printRows(around: Surroundings, names: string[], rows: Cell[][]): Promise<void> {
  const { textTable } = await import("./text-table.ts");
  const right = names.map((_, column) => rows.every((row) => row[column] === null || typeof row[column] === "number"));
  around.print(
    textTable(
      names,
      rows.map((row) => row.map((cell) => (cell === null ? "" : String(cell)))),
      right,
    ),
  );
  around.print(`\n${count(rows.length, "row")}`);
}
