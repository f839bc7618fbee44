import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { groupedColumns } from "../../src/store/grouped-columns.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";

let store: Store;
beforeAll(async () => {
  store = await openMemory();
});
afterAll(() => store.close());

describe("groupedColumns", () => {
  it("puts each row where its group is, over several chunks", async () => {
    const { columns, words, from } = await groupedColumns(
      store.connection,
      [
        "select (n % 3)::integer, n::double / 2, n::integer, (n % 7 = 0)::utinyint, case when n % 2 = 0 then 'even' end from range(10000) numbers(n) order by n",
      ],
      Int32Array.of(3334, 3333, 3333),
      { half: "number", number: "integer", seventh: "small", word: "word" },
    );
    expect([...from]).toEqual([0, 3334, 6667, 10_000]);
    const wanted = [0, 1, 2].flatMap((rest) =>
      Array.from({ length: rest === 0 ? 3334 : 3333 }, (_, k) => 3 * k + rest),
    );
    expect([...columns.number]).toEqual(wanted);
    expect([...columns.half]).toEqual(wanted.map((n) => n / 2));
    expect([...columns.seventh]).toEqual(wanted.map((n) => (n % 7 === 0 ? 1 : 0)));
    expect(words).toEqual(["even"]);
    expect([...columns.word]).toEqual(wanted.map((n) => (n % 2 === 0 ? 0 : -1)));
  });

  it("gives empty columns of no rows", async () => {
    const { columns } = await groupedColumns(store.connection, ["select 0, 1.5::double limit 0"], Int32Array.of(), {
      value: "number",
    });
    expect(columns.value).toEqual(new Float64Array(0));
  });

  it.each([
    { sizes: [1, 1], of: "fewer rows than there are" },
    { sizes: [3, 2], of: "more rows than there are" },
    { sizes: [3], of: "no such group" },
  ])("refuses $of", async ({ sizes }) => {
    const read = groupedColumns(
      store.connection,
      ["select g::integer, 1 from (values (0), (0)) groups(g)", "select 1, 1"],
      Int32Array.from(sizes),
      { one: "integer" },
    );
    await expect(read).rejects.toThrow("a group has other than its number of rows");
  });

  it("refuses a column of text among numbers", async () => {
    const read = groupedColumns(store.connection, ["select 0, 'x'"], Int32Array.of(1), { value: "number" });
    await expect(read).rejects.toThrow("Cannot fetch value as numbers");
  });
});
