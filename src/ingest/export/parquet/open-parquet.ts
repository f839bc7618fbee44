import { open, stat } from "node:fs/promises";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../../../errors.ts";
import { quoteText } from "../../../store/quote.ts";
import { withEngine } from "../engine.ts";
import { MOST_COLUMNS, megabytes, mostText } from "../limits.ts";
import type { ExportToOpen, OpenTable } from "../open-table.ts";
import { headOf, looksOf } from "../sniff.ts";
import { type Leaf, leavesOf, listsIn, topColumn } from "./leaf-columns.ts";

/** Writes a Parquet file as a text table; the engine reads it a piece at a time, whatever its size. */
export async function openParquet(
  { path, shownPath, reading, engine }: ExportToOpen,
  scratch: string,
): Promise<OpenTable> {
  await refuseOther(path, shownPath);
  const csvPath = join(scratch, "rows.csv");
  return withEngine(
    scratch,
    async (connection) => {
      try {
        const leaves = await leavesIn(connection, path, reading.decimalMark);
        refuseWide(leaves, shownPath);
        const records = await copied(connection, leaves, { path, csvPath, shownPath });
        return {
          csvPath,
          delimiter: ",",
          header: leaves.map(({ name }) => name.trim()),
          above: 0,
          headerRecords: 0,
          blanks: [],
          broken: [],
          records,
          quotedNewlines: true,
          reading,
        };
      } catch (error) {
        throw parquetFault(shownPath, error);
      }
    },
    engine,
  );
}

const MAGIC = "PAR1";

/** A whole Parquet file ends as it begins. */
async function refuseOther(path: string, shownPath: string): Promise<void> {
  const looks = looksOf(await headOf(path));
  if (looks === "parquet") {
    if ((await tailOf(path)) === MAGIC) return;
    throw new UserError(
      `Cannot read ${shownPath}: the Parquet file is cut off, for its end is missing; copy it from where it came, or export it again`,
    );
  }
  const words =
    looks === "gzip"
      ? "packed with gzip; unpack it, for a Parquet file is packed already"
      : looks === "zip"
        ? 'a zip file, as workbooks are; set "format: xlsx" in its pipeline if it is one, or unpack it'
        : 'not a Parquet file; set the "format" that it has in its pipeline, or export it again';
  throw new UserError(`Cannot read ${shownPath} as parquet: it is ${words}`);
}

async function tailOf(path: string): Promise<string> {
  const { size } = await stat(path);
  const file = await open(path);
  try {
    const { buffer } = await file.read(Buffer.alloc(MAGIC.length), 0, MAGIC.length, Math.max(0, size - MAGIC.length));
    return buffer.toString("latin1");
  } finally {
    await file.close();
  }
}

function source(path: string): string {
  return `read_parquet(${quoteText(path)})`;
}

async function leavesIn(connection: DuckDBConnection, path: string, mark: "." | ","): Promise<Leaf[]> {
  const described = await connection.run(`select * from ${source(path)} limit 0`);
  const types = described.columnTypes();
  const columns = described.columnNames().map((name, index) => topColumn(name, types[index]!));
  const lists = [...new Set(listsIn(columns))];
  const lengths = new Map<string, number>();
  if (lists.length > 0) {
    const longest = lists.map((list) => `coalesce(max(len(${list})), 0)::integer`);
    const found = await (await connection.run(`select ${longest.join(", ")} from ${source(path)}`)).getRows();
    for (const [index, list] of lists.entries()) lengths.set(list, Number(found[0]?.[index] ?? 0));
  }
  return leavesOf(columns, (list) => Math.min(lengths.get(list) ?? 0, MOST_COLUMNS + 1), mark);
}

function refuseWide(leaves: Leaf[], shownPath: string): void {
  if (leaves.length <= MOST_COLUMNS) return;
  throw new UserError(
    `Cannot read ${shownPath}: its nested values would be over ${MOST_COLUMNS.toLocaleString("en-US")} columns; export it with one row for each element of its lists`,
  );
}

type Copy = { path: string; csvPath: string; shownPath: string };

/** Copies the rows as texts, and stops when they become more than such a file may. A row of nothing but blanks is a row. */
async function copied(
  connection: DuckDBConnection,
  leaves: Leaf[],
  { path, csvPath, shownPath }: Copy,
): Promise<number> {
  const most = mostText((await stat(path)).size);
  const only = leaves.length === 1;
  const texts = leaves.map(({ sql }, index) => `${only ? `coalesce(${sql}, '')` : sql} as c${index}`);
  const copy = `copy (select ${texts.join(",\n  ")} from ${source(path)}) to ${quoteText(csvPath)}
    (format csv, header false, delimiter ',', quote '"', escape '"', nullstr ''${only ? ", force_quote *" : ""})`;
  let over = false;
  const watch = setInterval(() => {
    stat(csvPath).then(
      ({ size }) => {
        over ||= size > most;
        if (over) connection.interrupt();
      },
      () => {},
    );
  }, 200);
  try {
    return (await connection.run(copy)).rowsChanged;
  } catch (error) {
    if (!over) throw error;
    throw new UserError(
      `Cannot read ${shownPath}: as text it is over ${megabytes(most)}, far more than an export of its packed size; export it as CSV if you trust it`,
    );
  } finally {
    clearInterval(watch);
  }
}

/** What the engine says of a file that it can't read. */
function parquetFault(shownPath: string, error: unknown): unknown {
  if (error instanceof UserError || !(error instanceof Error)) return error;
  const first = (error.message.split("\n")[0] ?? "").replace(/^(\w+ )*Error: /, "");
  return new UserError(
    `Cannot read ${shownPath}: the Parquet file is damaged or of a kind not known here (${first}); copy it from where it came, or export it again`,
    1,
    { cause: error },
  );
}
