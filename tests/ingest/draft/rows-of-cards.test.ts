import { expect, it } from "vitest";
import type { ColumnProfile, TableProfile } from "../../../src/ingest/draft/column-profile.ts";
import type { Layout, Match, Matched } from "../../../src/ingest/draft/match-columns.ts";
import { keepingRows } from "../../../src/ingest/draft/rows-of-cards.ts";
import { openMemory } from "../../../src/store/open-memory.ts";

function column(place: number): ColumnProfile {
  const numbers = { count: 0, withUnit: 0, decimals: 0, low: 0, low5: 0, quarter: 0 };
  const higher = { median: 0, threeQuarters: 0, high95: 0, high: 0 };
  const texts = {
    filled: 14,
    distinct: 14,
    averageLength: 10,
    upper: 0,
    lettered: 0,
    words: [],
    shapes: [],
    named: {},
  };
  return { place, header: "", key: place, ...texts, numbers: { ...numbers, ...higher } };
}

function matched(layout: Layout, score: number, ...fields: string[]): Matched {
  const match = (_: string, at: number): Match => ({ column: column(at + 1), header: 0, content: 1, margin: 0 });
  return {
    record: "rebuild",
    layout,
    fields: new Map(fields.map((field, at) => [field, match(field, at)])),
    slots: [],
    score,
  };
}

it("takes cards with a day of revision for wide ones where no column names a component, whatever seemed best", async () => {
  const table: TableProfile = { rows: 14, scant: [], columns: [] };
  const long = matched("long", -7.0, "card", "unit", "removed_on", "revised_on", "fitted");
  const wide = matched("wide", -7.2, "card", "unit", "removed_on", "revised_on");
  const engine = await openMemory();
  try {
    expect(await keepingRows(engine.connection, table, [long, wide], "cards.csv")).toBe(wide);
    const told = matched("long", -6.0, "card", "unit", "removed_on", "revised_on", "fitted", "slot");
    expect(await keepingRows(engine.connection, table, [told, wide], "cards.csv")).toBe(told);
  } finally {
    engine.close();
  }
});
