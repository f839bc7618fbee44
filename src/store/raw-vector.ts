// What lies in the engine's vectors, without asking for each row: where a vector doesn't show it, each row is asked after all. Views are of
// memory that goes with the chunk: copy, never keep.
import { DuckDBBooleanVector, type DuckDBVector } from "@duckdb/node-api";

/** Typed arrays a vector of plain numbers gives a view of. */
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

/** Says of a row whether it is NULL; null where no row is. */
export type Nulls = ((row: number) => boolean) | null;

/** The NULLs of a vector, from the engine's bits. */
export function nullsOf(vector: DuckDBVector): Nulls {
  const bits = "validity" in vector ? vector.validity : undefined;
  if (typeof bits !== "object" || bits === null || !("data" in bits && "offset" in bits) || bits.offset !== 0) {
    return (row) => vector.getItem(row) === null;
  }
  const { data } = bits;
  if (data === null) return null;
  if (!(data instanceof BigUint64Array)) return (row) => vector.getItem(row) === null;
  const bytes = new Uint8Array(data.buffer, data.byteOffset, data.byteLength);
  return (row) => (bytes[row >> 3]! & (1 << (row & 7))) === 0;
}

/** The first `count` rows of a vector of booleans, 1 for true; null where one is NULL, or the vector is of something else. */
export function flagsOf(vector: DuckDBVector, count: number): Uint8Array | null {
  const view = "dataView" in vector ? vector.dataView : undefined;
  if (vector instanceof DuckDBBooleanVector && view instanceof DataView && nullsOf(vector) === null) {
    return new Uint8Array(view.buffer, view.byteOffset, count);
  }
  const flags = new Uint8Array(count);
  for (let row = 0; row < count; row++) {
    const item = vector.getItem(row);
    if (typeof item !== "boolean") return null;
    flags[row] = item ? 1 : 0;
  }
  return flags;
}
