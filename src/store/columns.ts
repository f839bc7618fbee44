import type { DuckDBConnection, DuckDBValue, DuckDBVector } from "@duckdb/node-api";
import { flagsOf, nullsOf, plainItems } from "./raw-vector.ts";

/** How a column is wanted; a category is a text of few words: codes into `words`, -1 where NULL. */
export type ColumnKind = "number" | "integer" | "boolean" | "text" | "category";
type Category = { codes: Int32Array; words: string[] };

type ColumnOf<Kind extends ColumnKind | undefined> = Kind extends undefined
  ? never
  : Kind extends "number"
    ? Float64Array
    : Kind extends "integer"
      ? Int32Array
      : Kind extends "boolean"
        ? Uint8Array
        : Kind extends "category"
          ? Category
          : string[];

/** The columns of a result, all of the same length. */
export type Columns<Shape extends Record<string, ColumnKind>> = { [Name in keyof Shape]: ColumnOf<Shape[Name]> };

/**
 * Runs a query and gives its columns as typed arrays, never a row at a time.
 *
 * NULL: in a number NaN, in a text "", in a category the code -1; in an integer or a boolean a TypeError (`coalesce` it in SQL).
 * An integer takes INTEGER and smaller, and DATE (days since 1970-01-01); counts are BIGINT in SQL: cast them, `count(*)::integer`.
 * @param shape - the columns wanted, by name; others of the result are passed over
 * @throws TypeError if a column is missing or of a type that its kind can't hold
 * @example const { unit, hours } = await columns(connection, "from records.reading", { unit: "text", hours: "number" });
 */
export async function columns<const Shape extends Record<string, ColumnKind>>(
  connection: DuckDBConnection,
  sql: string,
  shape: Shape,
  values?: Record<string, DuckDBValue>,
): Promise<Columns<Shape>> {
  const result = await connection.run(sql, values);
  const names = result.columnNames();
  const collectors = Object.entries(shape).map(([name, kind]) => {
    const index = names.indexOf(name);
    if (index < 0) throw new TypeError(`Cannot fetch column ${name}: the result has ${names.join(", ")}`);
    return { name, index, collector: collectorOf(kind, name, result.rowCount) };
  });
  // The result is there as a whole: to wait for each chunk would take longer than to read it.
  for (let number = 0, at = 0; number < result.chunkCount; number++) {
    const chunk = result.getChunk(number);
    const count = chunk.rowCount;
    for (const { index, collector } of collectors) collector.put(chunk.getColumnVector(index), at, count);
    at += count;
  }
  return Object.fromEntries(collectors.map(({ name, collector }) => [name, collector.whole()])) as Columns<Shape>;
}

/** Takes the first `count` rows of a vector for the rows from `at` on. */
type Collector = { put: (vector: DuckDBVector, at: number, count: number) => void; whole: () => ColumnOf<ColumnKind> };

function collectorOf(kind: ColumnKind, name: string, rows: number): Collector {
  switch (kind) {
    case "number":
      return numberCollector(name, rows);
    case "integer":
      return integerCollector(name, rows);
    case "boolean":
      return booleanCollector(name, rows);
    case "text":
      return textCollector(name);
    case "category":
      return categoryCollector(name, rows);
  }
}

function numberCollector(name: string, rows: number): Collector {
  const whole = new Float64Array(rows);
  return {
    put: (vector, at, count) => {
      whole.set(plainItems(vector, name, "numbers").subarray(0, count), at);
      const isNull = nullsOf(vector);
      if (isNull === null) return;
      for (let row = 0; row < count; row++) if (isNull(row)) whole[at + row] = Number.NaN;
    },
    whole: () => whole,
  };
}

function integerCollector(name: string, rows: number): Collector {
  const whole = new Int32Array(rows);
  return {
    put: (vector, at, count) => {
      const items = plainItems(vector, name, "integers");
      if (items instanceof Float64Array || items instanceof Float32Array || items instanceof Uint32Array) {
        throw new TypeError(`Cannot fetch ${name} as integers: the column is ${vector.type}; cast it to INTEGER`);
      }
      refuseNull(vector, count, name);
      whole.set(items.subarray(0, count), at);
    },
    whole: () => whole,
  };
}

function booleanCollector(name: string, rows: number): Collector {
  const whole = new Uint8Array(rows);
  return {
    put: (vector, at, count) => {
      const flags = flagsOf(vector, count);
      if (flags !== null) return whole.set(flags, at);
      const odd = vector.toArray().find((item) => typeof item !== "boolean");
      throw new TypeError(`Cannot fetch ${name} as booleans: found ${odd} in a column of ${vector.type}`);
    },
    whole: () => whole,
  };
}

function textCollector(name: string): Collector {
  const texts: string[] = [];
  return {
    put: (vector, _, count) => {
      for (let row = 0; row < count; row++) texts.push(textAt(vector, row, name) ?? "");
    },
    whole: () => texts,
  };
}

function categoryCollector(name: string, rows: number): Collector {
  const codes = new Int32Array(rows);
  const words: string[] = [];
  const codeOf = new Map<string, number>();
  const encode = (word: string): number => {
    const known = codeOf.get(word);
    if (known !== undefined) return known;
    codeOf.set(word, words.length);
    return words.push(word) - 1;
  };
  return {
    put: (vector, at, count) => {
      for (let row = 0; row < count; row++) {
        const word = textAt(vector, row, name);
        codes[at + row] = word === null ? -1 : encode(word);
      }
    },
    whole: () => ({ codes, words }),
  };
}

function textAt(vector: DuckDBVector, row: number, name: string): string | null {
  const item = vector.getItem(row);
  if (item === null || typeof item === "string") return item;
  throw new TypeError(`Cannot fetch ${name} as text: the column is ${vector.type}; cast it to VARCHAR`);
}

function refuseNull(vector: DuckDBVector, count: number, name: string): void {
  const isNull = nullsOf(vector);
  if (isNull === null) return;
  for (let row = 0; row < count; row++) {
    if (isNull(row)) throw new TypeError(`Cannot fetch ${name} as integers: found NULL; coalesce it`);
  }
}
