import { describe, expect, it } from "vitest";
import { fieldsMissing } from "../../../reports/charts/fields-missing.ts";
import type { FieldCompleteness } from "../../../src/questions/audit-types.ts";
import { completenessOf } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

type Layers = { layer: { data: { values: Record<string, number>[] } }[] };

function layersOf(fields: FieldCompleteness[]): Record<string, number>[][] {
  return (fieldsMissing(fields, "Saltmere") as unknown as Layers).layer.map(({ data }) => data.values);
}

const field = (months: FieldCompleteness["months"], more: Partial<FieldCompleteness> = {}): FieldCompleteness => ({
  record: "rebuild",
  fleet: "saltmere",
  field: "end_play",
  records: months.reduce((sum, { records }) => sum + records, 0),
  have: months.reduce((sum, { have }) => sum + have, 0),
  share: 0.5,
  months,
  ...more,
});

describe("fieldsMissing()", () => {
  it("names each field with the share of records that have it", async () => {
    const words = wordsOf(await draw(fieldsMissing(completenessOf("saltmere"), "Saltmere")));
    expect(words).toEqual(expect.arrayContaining(["2016", "speed", "0 %", "end play as built"]));
    expect(words.filter((word) => /^\d+ %$/.test(word))).toHaveLength(4);
  });

  it("raises a bar by the share that lacks the field, and draws none where all have it (by hand)", () => {
    const [, , bars] = layersOf([
      field([
        { month: "2020-01", records: 4, have: 3 },
        { month: "2020-02", records: 2, have: 2 },
      ]),
    ]);
    expect(bars).toEqual([
      {
        from: Date.UTC(2020, 0),
        to: Date.UTC(2020, 1),
        base: 0,
        top: 0.25 * 0.86,
        field: "end play as built",
        missing: 1,
        records: 4,
      },
    ]);
  });

  it("breaks the line where there is no record, and passes over records without a date", () => {
    const [lines] = layersOf([
      field([
        { month: "2019-12", records: 1, have: 0 },
        { month: "2020-01", records: 1, have: 0 },
        { month: "2020-03", records: 1, have: 1 },
        { month: null, records: 5, have: 0 },
      ]),
    ]);
    expect(lines).toEqual([
      { from: Date.UTC(2019, 11), to: Date.UTC(2020, 1), base: 0, field: "end play as built" },
      { from: Date.UTC(2020, 2), to: Date.UTC(2020, 3), base: 0, field: "end play as built" },
    ]);
  });

  it("puts the first field at the top", () => {
    const months = [{ month: "2020-01", records: 2, have: 1 }];
    const [lines] = layersOf([field(months), field(months, { field: "lube" })]);
    expect(lines?.map(({ base }) => base)).toEqual([1, 0]);
  });

  it("takes months together where there are many, and stays within 2,000 marks", async () => {
    const months = Array.from({ length: 600 }, (_, index) => ({
      month: `${1975 + Math.floor(index / 12)}-${String((index % 12) + 1).padStart(2, "0")}`,
      records: 2,
      have: index % 2,
    }));
    const fields = Array.from({ length: 20 }, (_, index) => field(months, { field: `field_${index}` }));
    const spec = fieldsMissing(fields, "Saltmere");
    expect(marksOf(spec)).toBeLessThanOrEqual(2000);
    const [, , bars] = (spec as unknown as Layers).layer;
    // Months count each record once, whatever they are taken together by: 600 months of 2, half of them with one missing more
    const sum = (key: string) => bars?.data.values.reduce((total, bar) => total + (bar[key] ?? 0), 0) ?? 0;
    expect(sum("records")).toBe(20 * 1200);
    expect(sum("missing")).toBe(20 * 900);
  });

  it("draws a single month, and fields that nothing lacks", async () => {
    const svg = await draw(fieldsMissing([field([{ month: "2020-01", records: 1, have: 1 }])], "Saltmere"));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });
});
