import type { DuckDBConnection, DuckDBValue, DuckDBVector } from "@duckdb/node-api";

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
    return { name, index, collector: collectorOf(kind, name) };
  });
  // The result is there as a whole: to wait for each chunk would take longer than to read it.
  for (let at = 0; at < result.chunkCount; at++) {
    const chunk = result.getChunk(at);
    for (const { index, collector } of collectors) collector.add(chunk.getColumnVector(index), chunk.rowCount);
  }
  return Object.fromEntries(collectors.map(({ name, collector }) => [name, collector.end()])) as Columns<Shape>;
}

type Collector = { add: (vector: DuckDBVector, count: number) => void; end: () => ColumnOf<ColumnKind> };

function collectorOf(kind: ColumnKind, name: string): Collector {
  switch (kind) {
    case "number":
      return numberCollector(name);
    case "integer":
      return integerCollector(name);
    case "boolean":
      return booleanCollector(name);
    case "text":
      return textCollector(name);
    case "category":
      return categoryCollector(name);
  }
}

/** Typed arrays a vector of plain numbers gives a view of. The view is of memory that goes with the chunk: copy, never keep. */
type PlainItems =
  | Float64Array
  | Float32Array
  | Int32Array
  | Int16Array
  | Int8Array
  | Uint8Array
  | Uint16Array
  | Uint32Array;

/** The numbers of a vector as they lie, whatever stands where one is NULL. */
export function plainItems(vector: DuckDBVector, name: string, wanted: string): PlainItems {
  const items: unknown = "items" in vector ? vector.items : undefined;
  if (ArrayBuffer.isView(items) && !(items instanceof BigInt64Array) && !(items instanceof BigUint64Array)) {
    return items as PlainItems;
  }
  throw new TypeError(`Cannot fetch ${name} as ${wanted}: the column is ${vector.type}; cast it in the query`);
}

function numberCollector(name: string): Collector {
  const parts: Float64Array[] = [];
  return {
    add: (vector, count) => {
      const part = Float64Array.from(plainItems(vector, name, "numbers").subarray(0, count));
      for (let row = 0; row < count; row++) if (vector.getItem(row) === null) part[row] = Number.NaN;
      parts.push(part);
    },
    end: () => joined(parts, Float64Array),
  };
}

function integerCollector(name: string): Collector {
  const parts: Int32Array[] = [];
  return {
    add: (vector, count) => {
      const items = plainItems(vector, name, "integers");
      if (items instanceof Float64Array || items instanceof Float32Array || items instanceof Uint32Array) {
        throw new TypeError(`Cannot fetch ${name} as integers: the column is ${vector.type}; cast it to INTEGER`);
      }
      refuseNull(vector, count, name);
      parts.push(Int32Array.from(items.subarray(0, count)));
    },
    end: () => joined(parts, Int32Array),
  };
}

function booleanCollector(name: string): Collector {
  const parts: Uint8Array[] = [];
  return {
    add: (vector, count) => {
      const part = new Uint8Array(count);
      for (let row = 0; row < count; row++) {
        const item = vector.getItem(row);
        if (typeof item !== "boolean") {
          throw new TypeError(`Cannot fetch ${name} as booleans: found ${item} in a column of ${vector.type}`);
        }
        part[row] = item ? 1 : 0;
      }
      parts.push(part);
    },
    end: () => joined(parts, Uint8Array),
  };
}

function textCollector(name: string): Collector {
  const texts: string[] = [];
  return {
    add: (vector, count) => {
      for (let row = 0; row < count; row++) texts.push(textAt(vector, row, name) ?? "");
    },
    end: () => texts,
  };
}

function categoryCollector(name: string): Collector {
  const parts: Int32Array[] = [];
  const words: string[] = [];
  const codeOf = new Map<string, number>();
  const encode = (word: string): number => {
    const known = codeOf.get(word);
    if (known !== undefined) return known;
    codeOf.set(word, words.length);
    return words.push(word) - 1;
  };
  return {
    add: (vector, count) => {
      const part = new Int32Array(count);
      for (let row = 0; row < count; row++) {
        const word = textAt(vector, row, name);
        part[row] = word === null ? -1 : encode(word);
      }
      parts.push(part);
    },
    end: () => ({ codes: joined(parts, Int32Array), words }),
  };
}

function textAt(vector: DuckDBVector, row: number, name: string): string | null {
  const item = vector.getItem(row);
  if (item === null || typeof item === "string") return item;
  throw new TypeError(`Cannot fetch ${name} as text: the column is ${vector.type}; cast it to VARCHAR`);
}

function refuseNull(vector: DuckDBVector, count: number, name: string): void {
  for (let row = 0; row < count; row++) {
    if (vector.getItem(row) === null) throw new TypeError(`Cannot fetch ${name} as integers: found NULL; coalesce it`);
  }
}

type Joinable = Float64Array | Int32Array | Uint8Array;

function joined<Part extends Joinable>(parts: Part[], make: new (length: number) => Part): Part {
  const whole = new make(parts.reduce((length, part) => length + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
