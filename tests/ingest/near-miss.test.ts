import { afterEach, describe, expect, it } from "vitest";
import { checkRecords } from "../../src/ingest/check-records.ts";
import { openMemory } from "../../src/store/open-memory.ts";
import type { Store } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { severitiesOf } from "../../src/workspace/rules.ts";

const stores: Store[] = [];
afterEach(() => {
  for (const store of stores.splice(0)) store.close();
});

type Fleet = {
  /** The list of units: number, or number and model. */
  list?: (string | [unit: string, model: string])[];
  /** One card each, of a day of its own: number, or number, model and position. */
  cards?: (string | [unit: string, model: string | null, position?: string])[];
  retired?: string[];
};

/** The proposals for a fleet, "odd -> meant". */
async function proposals({ list = [], cards = [], retired = [] }: Fleet): Promise<string[]> {
  return (await misses({ list, cards, retired })).map(({ unit, meant }) => `${unit} -> ${meant}`);
}

async function misses({ list = [], cards = [], retired = [] }: Fleet): Promise<Record<string, unknown>[]> {
  const store = await openMemory();
  stores.push(store);
  const { connection } = store;
  const units = list.map((entry) => (typeof entry === "string" ? [entry, null] : entry));
  const visits = cards.map((entry) => (typeof entry === "string" ? [entry, null, null] : entry));
  for (const [id, record] of ["rebuild", "unit", "retirement"].entries()) {
    await connection.run(
      `insert into landing.file values (${id + 1}, '${record}.csv', null, '${id}', 0, '${record}', '', '${record}', 'wide', '{}', null, 0, 'there', ${id}, 0, 0, now()::timestamp)`,
    );
  }
  await connection.run(
    `insert into records.rebuild_row by name
     select 1 as file_id, (nth + 1)::integer as row, 'card' as part, 'C' || nth as card, 'saltmere' as fleet, visit[1] as unit, visit[2] as model,
            visit[3] as position, date '2010-01-01' + nth::integer as removed_on, 0 as content, 'current' as standing, false as barred
     from (select unnest(from_json($visits, '["VARCHAR[]"]')) as visit, generate_subscripts(from_json($visits, '["VARCHAR[]"]'), 1) as nth)`,
    { visits: JSON.stringify(visits) },
  );
  await connection.run(
    `insert into records.unit_row by name
     select 2 as file_id, (nth + 1)::integer as row, 'saltmere' as fleet, entry[1] as unit, entry[2] as model, 0 as content, 'current' as standing, false as barred
     from (select unnest(from_json($units, '["VARCHAR[]"]')) as entry, generate_subscripts(from_json($units, '["VARCHAR[]"]'), 1) as nth)`,
    { units: JSON.stringify(units) },
  );
  await connection.run(
    `insert into records.retirement_row by name
     select 3 as file_id, 2 as row, 'saltmere' as fleet, unnest(from_json($retired, '["VARCHAR"]')) as unit, date '2024-01-01' as retired_on, 0 as content, 'current' as standing, false as barred`,
    { retired: JSON.stringify(retired) },
  );
  await checkRecords(connection, { rollover_at: 100_000 }, severitiesOf({}));
  return rows(connection, "select unit, meant, because from records.near_miss order by unit");
}

/** Numbers so unlike each other that none is a slip of another. */
const SPARSE = ["SM0227", "SM1350", "SM2491", "SM3608", "SM4775", "SM5816"];
const twice = (units: string[]) => [...units, ...units];

describe("numbers that are nearly another's", () => {
  it.each([
    ["the letter O for a nought", "SMO227", "letters that look like figures"],
    ["a dropped nought", "SM227", "leading zeros"],
    ["small letters", "sm0227", "case, blanks or dashes"],
    ["a dash", "SM-0227", "case, blanks or dashes"],
    ["a blank", "SM 0227", "case, blanks or dashes"],
    ["two neighbours swapped", "SM2027", "two neighbours swapped"],
    ["a figure more", "SM02277", "one letter or figure more"],
    ["a letter less", "M0227", "one letter or figure less"],
    ["another figure", "SM0297", "one letter or figure other"],
  ])("are found by %s, where the list has the other alone", async (_, odd, difference) => {
    const found = await misses({ list: SPARSE, cards: [...SPARSE, odd] });
    expect(found.map(({ unit, meant }) => [unit, meant])).toEqual([[odd, "SM0227"]]);
    expect(found[0]?.["because"]).toBe(
      `${difference}; 1 record of it, 2 of SM0227, which alone is on the list of units`,
    );
  });

  it.each([
    ["I for 1", "SMI350", "SM1350"],
    ["l for 1", "SMl350", "SM1350"],
    ["S for 5", "SMS816", "SM5816"],
    ["Z for 2", "SMZ491", "SM2491"],
    ["B for 8", "SM5B16", "SM5816"],
    ["G for 6", "SM3G08", "SM3608"],
  ])("are found by %s, without a list", async (_, odd, meant) => {
    expect(await proposals({ cards: [...twice(SPARSE), odd] })).toEqual([`${odd} -> ${meant}`]);
  });

  it("are found by a power of ten, as a spreadsheet makes it of 2E5 or of 200000", async () => {
    expect(await proposals({ cards: ["200000", "200000", "2E5", "770013"] })).toEqual(["2E5 -> 200000"]);
    expect(await proposals({ list: ["2E5", "7B13"], cards: ["200000"] })).toEqual(["200000 -> 2E5"]);
  });

  it("are found without a list where the odd one is written like hardly another and has one card", async () => {
    expect(await proposals({ cards: [...twice(SPARSE), "SM02277"] })).toEqual(["SM02277 -> SM0227"]);
    expect(await proposals({ cards: [...twice(SPARSE), "SM02277", "SM02277"] })).toEqual([]); // two cards
    expect(await proposals({ cards: [...twice(SPARSE), "SM0297"] })).toEqual([]); // written as all are
  });

  it("are none where both are on the list, or another number may be meant as well", async () => {
    expect(await proposals({ list: [...SPARSE, "SMO227"], cards: twice(SPARSE) })).toEqual([]);
    expect(await proposals({ list: [...SPARSE, "SM0228"], cards: ["SM0229"] })).toEqual([]); // 0227, 0228
  });

  it("are none where the odd one was a unit once, or their models differ", async () => {
    expect(await proposals({ list: SPARSE, cards: ["SM0297"], retired: ["SM0297"] })).toEqual([]);
    expect(await proposals({ list: [["SM0227", "A"]], cards: [["SM0297", "B"]] })).toEqual([]);
    expect(await proposals({ list: [["SM0227", "A"]], cards: [["SM0297", "A"]] })).toEqual(["SM0297 -> SM0227"]);
    expect(await proposals({ list: [["SM0227", "A"]], cards: [["SM227", "B"]] })).toEqual([]);
  });

  it("are told with the model and place that both have", async () => {
    const found = await misses({
      list: [["SM0227", "A"]],
      cards: [
        ["SM0227", "A", "P-1"],
        ["SM0297", "A", "P-1"],
      ],
    });
    expect(found[0]?.["because"]).toBe(
      "one letter or figure other; 1 record of it, 2 of SM0227, which alone is on the list of units; both are A; both were at P-1",
    );
  });

  it("are none in a fleet of 2,000 numbers in a row, with a list, without one, and with a tenth of it missing", async () => {
    const fleet = Array.from({ length: 2000 }, (_, index) => `SM${String(index + 1).padStart(4, "0")}`);
    expect(await proposals({ cards: fleet })).toEqual([]);
    expect(await proposals({ list: fleet, cards: fleet })).toEqual([]);
    expect(await proposals({ list: fleet.filter((_, index) => index % 10 !== 3), cards: fleet })).toEqual([]);
    expect(await proposals({ cards: fleet.map((unit) => unit.replace(/^SM0*/, "SM")) })).toEqual([]);
    expect(await proposals({ cards: fleet.slice(0, 10).map((unit) => unit.replace(/^SM0*/, "FA-")) })).toEqual([]);
    expect(await proposals({ cards: [...fleet.slice(0, 999).map((unit) => unit.slice(3)), "1000"] })).toEqual([]);
  });

  it("are none in a fleet that counts with letters and figures", async () => {
    const fleet = Array.from({ length: 256 }, (_, index) => `F${index.toString(16).padStart(2, "0").toUpperCase()}`);
    expect(await proposals({ cards: fleet })).toEqual([]);
  });

  it("are found for a whole export that drops the noughts", async () => {
    const fleet = ["SM0001", "SM0002", "SM0003"];
    expect(await proposals({ list: fleet, cards: ["SM1", "SM2", "SM3"] })).toEqual([
      "SM1 -> SM0001",
      "SM2 -> SM0002",
      "SM3 -> SM0003",
    ]);
  });

  it("keep figures that a dash divides apart", async () => {
    expect(await proposals({ cards: ["1-10", "11-0", "1-10", "11-0"] })).toEqual([]);
  });
});
