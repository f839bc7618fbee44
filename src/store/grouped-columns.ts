import type { DuckDBConnection, DuckDBDataChunk, DuckDBMaterializedResult, DuckDBVector } from "@duckdb/node-api";
import { plainItems } from "./raw-vector.ts";

/** How a column of many rows is wanted: numbers of 8 bytes; whole numbers of 4 or of 1; numbers of words, -1 for NULL. */
export type GroupedKind = "number" | "integer" | "small" | "word";

type Column<Kind extends GroupedKind | undefined> = Kind extends undefined
  ? never
  : Kind extends "number"
    ? Float64Array
    : Kind extends "small"
      ? Uint8Array
      : Int32Array;

export type GroupedColumns<Shape extends Record<string, GroupedKind>> = {
  columns: { [Name in keyof Shape]: Column<Shape[Name]> };
  /** Words of the columns of words, by their numbers. */
  words: string[];
  /** Where each group begins in the columns, and the end of the last. */
  from: Int32Array;
};

/**
 * Runs queries of very many rows, one after the other, and puts each row where its group is: but for the rows of two queries nothing is held twice.
 * The first column is the number of the group; only words may be NULL. Inside a group rows are as they came.
 * @param sizes - rows of each group
 * @param shape - the columns that follow, in the order of the query
 * @throws RangeError if a group has other than its number of rows
 */
export async function groupedColumns<const Shape extends Record<string, GroupedKind>>(
  connection: DuckDBConnection,
  queries: string[],
  sizes: Int32Array,
  shape: Shape,
): Promise<GroupedColumns<Shape>> {
  const from = startsOf(sizes);
  const rows = from.at(-1)!;
  const words = new Map<string, number>();
  const kinds = Object.entries(shape);
  const columns = kinds.map(([, kind]) => makeColumn(kind, rows));
  const next = from.slice(0, -1);
  const put = (chunk: DuckDBDataChunk) => {
    const place = placesOf(chunk.getColumnVector(0), chunk.rowCount, next, from);
    kinds.forEach(([name, kind], index) => {
      scatter(chunk.getColumnVector(index + 1), place, columns[index]!, { name, kind, words });
    });
  };
  for await (const result of results(connection, queries)) {
    // The result is there as a whole: to wait for each chunk would take longer than to read it.
    for (let chunk = 0; chunk < result.chunkCount; chunk++) put(result.getChunk(chunk));
  }
  if (next.some((end, group) => end !== from[group + 1])) throw otherRows();
  return {
    columns: Object.fromEntries(
      kinds.map(([name], index) => [name, columns[index]]),
    ) as GroupedColumns<Shape>["columns"],
    words: [...words.keys()],
    from,
  };
}

/** Results in the order of their queries; while one is read, the engine is at the next. A streamed result would not keep the order of the table. */
async function* results(connection: DuckDBConnection, queries: string[]): AsyncGenerator<DuckDBMaterializedResult> {
  let next: Promise<DuckDBMaterializedResult> | undefined;
  try {
    for (const [at, sql] of queries.entries()) {
      const result = await (next ?? connection.run(sql));
      const following = queries[at + 1];
      next = following === undefined ? undefined : connection.run(following);
      yield result;
    }
  } finally {
    // Whoever reads may have stopped: the engine must not be left at work.
    await next?.catch(() => {});
  }
}

function startsOf(sizes: Int32Array): Int32Array {
  const from = new Int32Array(sizes.length + 1);
  for (let group = 0; group < sizes.length; group++) from[group + 1] = from[group]! + sizes[group]!;
  return from;
}

/** Of memory that other threads see too: what is handed to them is not copied. */
function makeColumn(kind: GroupedKind, rows: number): Float64Array | Int32Array | Uint8Array {
  if (kind === "number") return new Float64Array(new SharedArrayBuffer(8 * rows));
  return kind === "small"
    ? new Uint8Array(new SharedArrayBuffer(rows))
    : new Int32Array(new SharedArrayBuffer(4 * rows));
}

function placesOf(vector: DuckDBVector, count: number, next: Int32Array, from: Int32Array): Int32Array {
  const groups = plainItems(vector, "the group", "integers");
  const place = new Int32Array(count);
  for (let row = 0; row < count; row++) {
    const group = groups[row]!;
    const at = next[group];
    if (at === undefined || at === from[group + 1]) throw otherRows();
    place[row] = at;
    next[group] = at + 1;
  }
  return place;
}

function otherRows(): RangeError {
  return new RangeError("Cannot put rows by group: a group has other than its number of rows");
}

type Wanted = { name: string; kind: GroupedKind; words: Map<string, number> };

function scatter(
  vector: DuckDBVector,
  place: Int32Array,
  column: Float64Array | Int32Array | Uint8Array,
  { name, kind, words }: Wanted,
): void {
  if (kind === "word") {
    for (let row = 0; row < place.length; row++) column[place[row]!] = numberOf(vector.getItem(row), words);
    return;
  }
  const items = plainItems(vector, name, "numbers");
  for (let row = 0; row < place.length; row++) column[place[row]!] = items[row]!;
}

function numberOf(word: unknown, words: Map<string, number>): number {
  if (typeof word !== "string") return -1;
  const known = words.get(word) ?? words.size;
  words.set(word, known);
  return known;
}
