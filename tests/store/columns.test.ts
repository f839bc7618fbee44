import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { columns } from "../../src/store/columns.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";

let store: Store;
beforeAll(async () => {
  store = await openMemory();
});
afterAll(() => store.close());

describe("columns()", () => {
  it("gives typed arrays over several chunks, in order", async () => {
    const found = await columns(
      store.connection,
      "select x::integer as n, x / 2 as half, 'w' || (x % 3) as word, x % 2 = 0 as even from range(5000) t(x) order by x",
      { n: "integer", half: "number", word: "category", even: "boolean" },
    );
    expect(found.n).toHaveLength(5000);
    expect(found.n[4999]).toBe(4999);
    expect(found.half[4999]).toBe(2499.5);
    expect(found.word.words).toEqual(["w0", "w1", "w2"]);
    expect(found.word.codes[4999]).toBe(4999 % 3);
    expect(Array.from(found.even.subarray(0, 3))).toEqual([1, 0, 1]);
  });

  it("gives NULL as NaN, as an empty text and as code -1", async () => {
    const found = await columns(
      store.connection,
      "select * from (values (1.5::double, 'a', 'b'), (null, null, null)) t(number, text, category)",
      { number: "number", text: "text", category: "category" },
    );
    expect(Array.from(found.number)).toEqual([1.5, Number.NaN]);
    expect(found.text).toEqual(["a", ""]);
    expect(Array.from(found.category.codes)).toEqual([0, -1]);
  });

  it("finds NULL whatever the engine left in its place", async () => {
    const sql = "select case when x % 2 = 0 then x::double + 7 end as y from range(10) t(x) order by x";
    const { y } = await columns(store.connection, sql, { y: "number" });
    expect(Array.from(y)).toEqual([7, Number.NaN, 9, Number.NaN, 11, Number.NaN, 13, Number.NaN, 15, Number.NaN]);
  });

  it("gives empty arrays for an empty result, and binds values", async () => {
    const found = await columns(
      store.connection,
      "select 1 as n where $flag = 'yes'",
      { n: "integer" },
      { flag: "no" },
    );
    expect(found.n).toEqual(new Int32Array(0));
  });

  it("gives a date as days since 1970-01-01", async () => {
    const { day } = await columns(store.connection, "select date '1970-02-01' as day", { day: "integer" });
    expect(day[0]).toBe(31);
  });

  it.each([
    ["a column that is not there", "select 1 as a", { b: "integer" }, "Cannot fetch column b"],
    ["NULL in an integer", "select null::integer as a", { a: "integer" }, "found NULL"],
    ["a count that was not cast", "select count(*) as a", { a: "integer" }, "BIGINT"],
    ["a double as integer", "select 1.5::double as a", { a: "integer" }, "DOUBLE"],
    ["a number as text", "select 1 as a", { a: "text" }, "INTEGER"],
    ["NULL in a boolean", "select null::boolean as a", { a: "boolean" }, "found null"],
  ] as const)("refuses %s", async (_what, sql, shape, message) => {
    await expect(
      columns(store.connection, sql, shape as Record<string, "integer" | "text" | "boolean">),
    ).rejects.toThrow(message);
  });
});

describe("rows()", () => {
  it("gives a small result as objects", async () => {
    expect(await rows(store.connection, "select $a as a, 2 as b", { a: "x" })).toEqual([{ a: "x", b: 2 }]);
  });
});
