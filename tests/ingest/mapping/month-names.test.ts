import { DuckDBInstance } from "@duckdb/node-api";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { dayByPattern } from "../../../src/ingest/mapping/date-sql.ts";
import { quoteText } from "../../../src/store/quote.ts";

let instance: DuckDBInstance;
beforeAll(async () => {
  instance = await DuckDBInstance.create(":memory:");
});
afterAll(() => instance.closeSync());

async function dayOf(text: string, pattern: string): Promise<unknown> {
  const connection = await instance.connect();
  const sql = `select ${dayByPattern("text", pattern)}::date::varchar from (select ${quoteText(text)} as text)`;
  const [row] = await (await connection.run(sql)).getRows();
  connection.closeSync();
  return row?.[0];
}

// Names of months as calendars in those languages have them.
describe("a month by its name", () => {
  it.each([
    { text: "3 Apr 2023", pattern: "%d %b %Y", day: "2023-04-03" },
    { text: "3. Mai 2022", pattern: "%d. %b %Y", day: "2022-05-03" },
    { text: "03-Mär-21", pattern: "%d-%b-%y", day: "2021-03-03" },
    { text: "12 Dez 2020", pattern: "%d %b %Y", day: "2020-12-12" },
    { text: "12 DEZEMBER 2020", pattern: "%d %B %Y", day: "2020-12-12" },
    { text: "7. Okt. 2019 14:30", pattern: "%d. %b %Y %H:%M", day: "2019-10-07" },
    { text: "1. Jänner 2019", pattern: "%d. %B %Y", day: "2019-01-01" },
    { text: "3.Mai.2022", pattern: "%d.%b.%Y", day: "2022-05-03" },
    { text: "12 févr. 2020", pattern: "%d %b %Y", day: "2020-02-12" },
    { text: "3 de mayo de 2022", pattern: "%d de %b de %Y", day: "2022-05-03" },
    { text: "31. Juni 2022", pattern: "%d. %B %Y", day: null }, // June has 30 days
    { text: "3. Mais 2022", pattern: "%d. %b %Y", day: null },
    { text: "3 Maien 2022", pattern: "%d %b %Y", day: null },
    { text: "03.05.2022", pattern: "%d.%b.%Y", day: null }, // figures are no name
  ])("is read in $text: $day", async ({ text, pattern, day }) => {
    expect(await dayOf(text, pattern)).toBe(day);
  });
});
