import { DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { dayByPattern } from "../../../src/ingest/mapping/date-sql.ts";
import { quoteText } from "../../../src/store/quote.ts";

let instance: DuckDBInstance;
beforeAll(async () => {
  instance = await DuckDBInstance.create(":memory:");
});
afterAll(() => instance.closeSync());

// Zones as RFC 3339, section 5.6, and ISO 8601 write them.
describe("the day of a time with its zone", () => {
  it.each([
    { text: "2021-03-05T00:30:00+01:00", pattern: "%Y-%m-%dT%H:%M:%S%z", day: "2021-03-05" }, // the day before in UTC
    { text: "2021-11-11T23:30:00Z", pattern: "%Y-%m-%dT%H:%M:%S%z", day: "2021-11-11" },
    { text: "2021-11-11T23:30:00.125-0500", pattern: "%Y-%m-%dT%H:%M:%S.%f%z", day: "2021-11-11" },
    { text: "05.03.2021 00:30 +01", pattern: "%d.%m.%Y %H:%M %z", day: "2021-03-05" },
    { text: "2021-03-05T00:30:00", pattern: "%Y-%m-%dT%H:%M:%S%z", day: null },
  ])("of $text is $day, as it is written", async ({ text, pattern, day }) => {
    for (const zone of ["UTC", "Asia/Tokyo", "America/New_York"]) {
      const connection = await instance.connect();
      await connection.run(`set timezone = '${zone}'`);
      const sql = `select ${dayByPattern("text", pattern)}::date::varchar from (select ${quoteText(text)} as text)`;
      const [row] = await (await connection.run(sql)).getRows();
      connection.closeSync();
      expect(row?.[0]).toBe(day);
    }
  });
});
