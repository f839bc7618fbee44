import { existsSync, statSync } from "node:fs";
import { resolve } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { type EngineUse, startEngine } from "../store/engine.ts";
import { quoteIdentifier } from "../store/quote.ts";
import { memorySpillFolder } from "../store/spill-folder.ts";

/** A plain table in a database of its own, in memory: cells of `plain` are text where not `numeric`, `row ` counts from 1 below the header. */
export type OpenPlainTable = {
  connection: DuckDBConnection;
  path: string;
  headers: string[];
  /** Headers, in small letters, that stand over more than one column. */
  doubled: ReadonlySet<string>;
  /** The columns, as quoted headers, that hold numbers and no text: of a Parquet file that says so. */
  numeric: ReadonlySet<string>;
  close: () => void;
};

/** Types of columns whose cells are numbers as they lie. */
const NUMBER = /^(TINYINT|SMALLINT|INTEGER|BIGINT|UTINYINT|USMALLINT|UINTEGER|FLOAT|DOUBLE|DECIMAL\b.*)$/;

/** Reads a CSV or Parquet file whole; nothing on the disk can be reached through the connection afterwards. */
export async function openPlainTable(folder: string, file: string, use: EngineUse = {}): Promise<OpenPlainTable> {
  const path = resolve(folder, file);
  if (!existsSync(path))
    throw new UserError(`Cannot read ${path}: there is no such file; name a csv or parquet file that is there`);
  if (statSync(path).isDirectory())
    throw new UserError(`Cannot read ${path}: it is a folder; name a csv or parquet file in it`);
  if (statSync(path).size === 0) throw new UserError(`Cannot read ${path}: the file is empty; it needs one header row`);
  const { connection, close } = await startEngine(":memory:", memorySpillFolder(), use);
  const reader = /\.parquet$/i.test(path)
    ? "read_parquet($path)"
    : `read_csv($path, header = true, all_varchar = true, auto_detect = true, delim = ',', quote = '"', escape = '"', ignore_errors = false)`;
  const numeric = new Set<string>();
  let doubled = new Set<string>();
  const read: string[] = [];
  try {
    const cells = await connection.runAndReadAll(`from ${reader} limit 0`, { path });
    for (const [index, name] of cells.columnNames().entries()) {
      const isNumber = NUMBER.test(cells.columnType(index).toString());
      if (isNumber) numeric.add(quoteIdentifier(name));
      read.push(isNumber ? quoteIdentifier(name) : `${quoteIdentifier(name)}::varchar as ${quoteIdentifier(name)}`);
    }
    await connection.run(
      `create table plain as select row_number() over ()::integer as "row ", ${read.join(", ")} from ${reader}`,
      { path },
    );
    if (reader.startsWith("read_csv")) doubled = await doubledHeaders(connection, reader, path);
  } catch (error) {
    close();
    const said = (error as Error).message.split("\n").slice(0, 2).join(" ");
    throw new UserError(
      `Cannot read ${path}: ${said}; it must be comma-separated text with one header row, or Parquet`,
      1,
      { cause: error },
    );
  }
  const counted = await connection.runAndReadAll("select count(*)::integer from plain");
  if (counted.getRows()[0]?.[0] === 0) throw new UserError(`Cannot use ${path}: it has a header and no rows; add rows`);
  await connection.run("set enable_external_access = false");
  await connection.run("set lock_configuration = true");
  const described = await connection.runAndReadAll(
    "select name from pragma_table_info('plain') where cid > 0 order by cid",
  );
  const headers = described.getRows().map((row) => String(row[0]));
  return {
    connection,
    path,
    headers,
    doubled,
    numeric,
    close,
  };
}

/** The reader gives a header that comes again a name of its own; only the row itself shows it. */
async function doubledHeaders(connection: DuckDBConnection, reader: string, path: string): Promise<Set<string>> {
  const plain = reader.replace("header = true", "header = false");
  const [row = []] = (await connection.runAndReadAll(`from ${plain} limit 1`, { path })).getRows();
  const names = row.map((cell) => String(cell ?? "").toLowerCase());
  return new Set(names.filter((name, at) => name !== "" && names.indexOf(name) !== at));
}

/** A column of the plain table by the name we know it by, as a quoted header; undefined where the table has none. */
export function plainColumn(table: OpenPlainTable, renamed: Record<string, string>, name: string): string | undefined {
  const header = renamed[name] ?? name;
  const found = table.headers.find((candidate) => candidate.toLowerCase() === header.toLowerCase());
  if (found === undefined && renamed[name] !== undefined) {
    throw new UserError(
      `Cannot read ${table.path}: no column "${header}", named for ${name} by --columns; its columns are ${table.headers.join(", ")}`,
    );
  }
  if (found !== undefined && table.doubled.has(found.toLowerCase())) {
    throw new UserError(
      `Cannot use ${table.path}: header "${found}" stands over more than one column; give each column a header of its own`,
    );
  }
  return found === undefined ? undefined : quoteIdentifier(found);
}

/** SQL of a column as a number; `missing` stands in for a blank cell, and NULL for one that is no number. */
export function plainNumber({ numeric }: OpenPlainTable, column: string, missing: string): string {
  if (numeric.has(column)) return `coalesce(${column}::double, ${missing})`;
  return `coalesce(try_cast(nullif(trim(${column}), '') as double), case when trim(coalesce(${column}, '')) = '' then ${missing} end)`;
}

/** SQL of a column as a word in small letters; of a column of numbers, 0 and 1 as such. */
export function plainWord({ numeric }: OpenPlainTable, column: string): string {
  if (!numeric.has(column)) return `lower(trim(${column}))`;
  return `case ${column} when 0 then '0' when 1 then '1' else ${column}::varchar end`;
}

/** Refuses names that `--columns` gives but the command does not know. */
export function checkRenamed(renamed: Record<string, string>, known: readonly string[]): void {
  const unknown = Object.keys(renamed).find((name) => !known.includes(name));
  if (unknown !== undefined)
    throw new UserError(`Cannot use --columns ${unknown}=...: the names are ${known.join(", ")}`, 2);
}

/**
 * The columns that are not the command's own, as SQL: numbers where every cell is one, so that `--where "load > 3"` compares numbers.
 * @returns `, expression as "header"` for each
 */
export async function covariates(
  table: OpenPlainTable,
  own: (string | undefined)[],
  reserved: string[],
): Promise<string> {
  const others = table.headers.map(quoteIdentifier).filter((header) => !own.includes(header));
  const texts = others.filter((header) => !table.numeric.has(header));
  const taken = table.headers.find(
    (header) => reserved.includes(header.toLowerCase()) && !own.includes(quoteIdentifier(header)),
  );
  if (taken !== undefined) {
    throw new UserError(
      `Cannot use ${table.path}: column "${taken}" has a name that the answer needs for itself; rename it, or say with --columns what it is`,
    );
  }
  const numbers = new Set(table.numeric);
  if (texts.length > 0) {
    const checks = texts.map((header) => `bool_and(${header} is null or try_cast(${header} as double) is not null)`);
    const result = await table.connection.runAndReadAll(`select ${checks.join(", ")} from plain`);
    texts.forEach((header, index) => {
      if (result.getRows()[0]?.[index] === true) numbers.add(header);
    });
  }
  return others.map((header) => `, ${numbers.has(header) ? `${header}::double` : header} as ${header}`).join("");
}

/** Throws with the first rows that break a rule; `rules` gives a condition that a row must not meet, and what is wrong then. */
export async function refuseFaultyRows(
  table: OpenPlainTable,
  relation: string,
  rules: { when: string; says: string; shows: string }[],
): Promise<void> {
  const faults = rules.map(({ when, says, shows }) => ({
    when,
    text: `'${says}, found ' || coalesce('"' || (${shows})::varchar || '"', 'nothing')`,
  }));
  const cases = faults.map(({ when, text }) => `when ${when} then ${text}`).join(" ");
  const result = await table.connection.runAndReadAll(
    `select "row ", fault, (count(*) over ())::integer from (select "row ", case ${cases} end as fault from ${relation}) where fault is not null order by "row " limit 3`,
  );
  const found = result.getRows();
  if (found.length === 0) return;
  const shown = found.map(([row, fault]) => `row ${row}: ${fault}`).join("; ");
  const more = Number(found[0]?.[2]) - found.length;
  throw new UserError(
    `Cannot use ${table.path}: ${shown}${more > 0 ? `; and ${more} more rows` : ""}; correct the file`,
  );
}
