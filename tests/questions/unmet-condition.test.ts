import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { unmetWarnings } from "../../src/questions/unmet-condition.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";

let store: Store;
beforeAll(async () => {
  store = await openMemory();
  await store.connection.run(
    `create temp table frames as
     select 'P-' || (i % 20) as position, case when i % 2 = 0 then 'grease' else 'oil_bath' end as lube, i / 10 as end_play,
            date '2020-01-01' + i::integer as start_on, i % 3 = 0 as within, null::varchar as batch, 'x' as "order", i as "Größe"
     from range(60) as r(i)`,
  );
});
afterAll(() => store.close());

const said = (condition: string | undefined) => unmetWarnings(store.connection, "frames", condition);

describe("unmetWarnings()", () => {
  it("says nothing where there is no condition, or where it names no column", async () => {
    expect(await said(undefined)).toEqual([]);
    expect(await said("1 = 2")).toEqual([]);
    expect(await said("'lube' = 'end_play'")).toEqual([]);
  });

  it.each([
    { condition: "lube = 'oil'", held: "lube holds grease and oil_bath" },
    { condition: "LUBE = 'it''s lube' ", held: "lube holds grease and oil_bath" },
    { condition: "end_play > 25", held: "end_play runs from 0 to 5.9" },
    { condition: "start_on < '2010-01-01'", held: "start_on runs from 2020-01-01 to 2020-02-29" },
    { condition: "within is null", held: "within holds false and true" },
    { condition: "batch = 'B1'", held: "batch is nowhere on record" },
    { condition: "position = 'Q1'", held: "position holds P-0, P-1, P-10 and 17 more" },
    { condition: `"order" = 'y'`, held: "order holds x" },
    { condition: "größe > 100", held: "Größe runs from 0 to 59" },
    { condition: "lube = 'oil' and end_play > 1", held: "lube holds grease and oil_bath; end_play runs from 0 to 5.9" },
  ])("says what the columns of $condition hold", async ({ condition, held }) => {
    expect(await said(condition)).toEqual([
      `nothing in question meets --where ${JSON.stringify(condition)}; on record, whatever the fleet and slot: ${held}`,
    ]);
  });

  it("does not take a part of a name for a column", async () => {
    expect(await said("lubes = 1 or the_end_play = 2")).toEqual([]);
  });
});
