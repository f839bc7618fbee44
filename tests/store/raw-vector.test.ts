import type { DuckDBConnection, DuckDBVector } from "@duckdb/node-api";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { flagsOf, nullsOf, plainItems } from "../../src/store/raw-vector.ts";

let store: Store;
beforeAll(async () => {
  store = await openMemory();
});
afterAll(() => store.close());

type Piece = { vector: DuckDBVector; count: number };

async function piecesOf(connection: DuckDBConnection, sql: string): Promise<Piece[]> {
  const result = await connection.run(sql);
  return Array.from({ length: result.chunkCount }, (_, number) => {
    const chunk = result.getChunk(number);
    return { vector: chunk.getColumnVector(0), count: chunk.rowCount };
  });
}

/** A vector that shows nothing but its rows. */
function closed(vector: DuckDBVector): DuckDBVector {
  return { type: vector.type, getItem: (row: number) => vector.getItem(row) } as DuckDBVector;
}

function rowsWithNull({ vector, count }: Piece): number[] {
  const isNull = nullsOf(vector);
  return isNull === null ? [] : Array.from({ length: count }, (_, row) => row).filter(isNull);
}

const rows = "from range(5000) as rows(row)";

describe("nullsOf()", () => {
  it.each([
    ["none", `select row::double ${rows}`],
    ["all", `select null::integer ${rows}`],
    ["the first and the last of a chunk", `select case when row % 2048 not in (0, 2047) then row::double end ${rows}`],
    ["by the hash of the row", `select case when hash(row) % 3 > 0 then row::integer end ${rows}`],
    ["of texts", `select case when hash(row) % 7 > 0 then row::varchar end ${rows}`],
    ["of booleans", `select case when row % 65 > 0 then row % 2 = 0 end ${rows}`],
    [
      "after a sort and a filter",
      `select v from (select nullif(row % 10, 3) as v, row ${rows}) where row > 77 order by hash(row)`,
    ],
  ])("says of each row what asking for the row says: %s", async (_, sql) => {
    const pieces = await piecesOf(store.connection, sql);
    expect(pieces.length).toBeGreaterThan(2);
    for (const { vector, count } of pieces) {
      expect(rowsWithNull({ vector, count })).toEqual(rowsWithNull({ vector: closed(vector), count }));
    }
  });

  it("is null itself where a whole chunk has none, so that none is looked for", async () => {
    const pieces = await piecesOf(store.connection, `select row::double ${rows}`);
    expect(pieces.map(({ vector }) => nullsOf(vector))).toEqual([null, null, null]);
  });
});

describe("flagsOf()", () => {
  it("gives booleans as the rows have them, also where the vector shows nothing else", async () => {
    for (const { vector, count } of await piecesOf(store.connection, `select hash(row) % 3 = 0 ${rows}`)) {
      const plain = Uint8Array.from({ length: count }, (_, row) => (vector.getItem(row) === true ? 1 : 0));
      expect(flagsOf(vector, count)).toEqual(plain);
      expect(flagsOf(closed(vector), count)).toEqual(plain);
    }
  });

  it("gives nothing of rows that are NULL, nor of other types", async () => {
    const [some] = await piecesOf(store.connection, `select case when row <> 9 then true end ${rows}`);
    expect(flagsOf(some!.vector, some!.count)).toBe(null);
    expect(flagsOf(closed(some!.vector), some!.count)).toBe(null);
    const [numbers] = await piecesOf(store.connection, `select 1::utinyint ${rows}`);
    expect(flagsOf(numbers!.vector, numbers!.count)).toBe(null);
  });
});

describe("plainItems()", () => {
  it("refuses what is no plain number, with the column and the remedy", async () => {
    const [big] = await piecesOf(store.connection, `select row::bigint ${rows}`);
    expect(() => plainItems(big!.vector, "hours", "numbers")).toThrow(
      "Cannot fetch hours as numbers: the column is BIGINT; cast it in the query",
    );
  });
});
