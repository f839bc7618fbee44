import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { quoteText } from "../../../src/store/quote.ts";
import { ExportsAtHand } from "./exports-at-hand.ts";

let exports: ExportsAtHand;
beforeAll(async () => {
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

async function parquet(select: string): Promise<Buffer> {
  const path = join(exports.folder, "made.parquet");
  await exports.store.connection.run(`copy (${select}) to ${quoteText(path)} (format parquet)`);
  return readFileSync(path);
}

const read = async (select: string, how = {}) =>
  exports.read("cards.parquet", await parquet(select), { format: "parquet", ...how });

describe("a Parquet file", () => {
  it.each([
    { sql: "5.0::double", text: "5" },
    { sql: "0.1::double", text: "0.1" },
    { sql: "0.1::float", text: "0.1" },
    { sql: "0.000015::double", text: "0.000015" },
    { sql: "-1.5e-7::double", text: "-0.00000015" },
    { sql: "100000000000000::double", text: "100000000000000" },
    { sql: "1.5e20::double", text: "1.5E+20" },
    { sql: "1.50::decimal(5, 2)", text: "1.50" },
    { sql: "9007199254740993::bigint", text: "9007199254740993" },
    { sql: "true", text: "true" },
    { sql: "date '2024-01-31'", text: "2024-01-31" },
    { sql: "timestamp '2024-01-31 00:00:00'", text: "2024-01-31" },
    { sql: "timestamp '2024-01-31 06:30:00'", text: "2024-01-31 06:30:00" },
    { sql: "timestamp_ns '2024-01-31 06:30:00'", text: "2024-01-31 06:30:00" },
    { sql: "timestamptz '2024-01-31 01:30:00+02'", text: "2024-01-30 23:30:00" },
    { sql: "time '06:30:00'", text: "06:30:00" },
    { sql: "'a \"b\", c' || chr(10) || 'd'", text: 'a "b", c\nd' },
    { sql: "null::varchar", text: "" },
  ])("gives $sql as $text", async ({ sql, text }) => {
    expect(await read(`select ${sql} as a, 'x' as b`)).toEqual({ header: ["a", "b"], rows: [[text, "x"]] });
  });

  it("gives numbers the pipeline's decimal mark, and texts none", async () => {
    expect(
      (await read("select 5.25::double as a, 5.25::decimal(5, 2) as b, '5.25' as c", { decimalMark: "," })).rows,
    ).toEqual([["5,25", "5,25", "5.25"]]);
  });

  it("takes nested values apart into paths, lists by place", async () => {
    const select = `select {'serial': 'SM1', 'a.b': {'n': 1}} as unit, [{'part': 'P1'}] as slots, ['x'] as tags, 1 as "Serial no."
      union all select null, [{'part': 'P2'}, {'part': 'P3'}], [], 2`;
    expect(await read(select)).toEqual({
      header: ["unit.serial", "unit.a\\.b.n", "slots[0].part", "slots[1].part", "tags[0]", "Serial no\\."],
      rows: [
        ["SM1", "1", "P1", "", "x", "1"],
        ["", "", "P2", "P3", "", "2"],
      ],
    });
  });

  it("keeps rows of nothing but blanks, and the order of its rows", async () => {
    const { rows } = await read("select case when range % 3 = 0 then null else range end as a from range(200000)");
    expect(rows.length).toBe(200_000);
    expect(rows.every(([cell], index) => cell === (index % 3 === 0 ? "" : String(index)))).toBe(true);
  });

  it("may have no rows", async () => {
    expect(await read("select 1 as a, 2 as b where false")).toEqual({ header: ["a", "b"], rows: [] });
  });

  it("that is cut off, damaged, or none, says so", async () => {
    const whole = await parquet("select range as a, range::varchar as b from range(1000)");
    const open = (content: string | Buffer) => exports.open("cards.parquet", content, { format: "parquet" });
    await expect(open(whole.subarray(0, 500))).rejects.toThrow("the Parquet file is cut off");
    const damaged = Buffer.concat([whole.subarray(0, 4), Buffer.alloc(whole.length - 8, 0xab), Buffer.from("PAR1")]);
    await expect(open(damaged)).rejects.toThrow("the Parquet file is damaged or of a kind not known here (");
    await expect(open(Buffer.from([0x1f, 0x8b, 8, 0]))).rejects.toThrow("packed with gzip; unpack it");
    await expect(open("Card\n")).rejects.toThrow("not a Parquet file");
    await expect(open(Buffer.from("PK\x03\x04"))).rejects.toThrow('set "format: xlsx"');
  });
});
