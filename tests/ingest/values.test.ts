import { describe, expect, it } from "vitest";
import { ScratchWorkspace } from "./scratch-workspace.ts";

/** Reads `cells` through one field of a unit list or card, and gives value (or rule) of each. */
async function read(field: string, mapping: string, cells: string[], more = ""): Promise<string[]> {
  const pipeline = `
title: Cells
record: rebuild
files: cells.csv
delimiter: ";"
${more}
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Card }
  received_on: { value: 2024-12-31 }
  ${field}: { column: Cell, ${mapping} }
`;
  const quoted = cells.map((cell, index) => `${index};"${cell.replaceAll('"', '""')}"`);
  const workspace = new ScratchWorkspace({ cells: pipeline }, { "cells.csv": ["Card;Cell", ...quoted, ""].join("\n") });
  await workspace.ingest();
  const column =
    {
      end_play: "end_play_mm",
      shims: "shims_mm",
      race_depth: "race_depth_mm",
      spigot_height: "spigot_height_mm",
      end_play_unshimmed: "end_play_unshimmed_mm",
      ring_temperature: "ring_temperature_c",
      speed: "speed_rpm",
    }[field] ?? field;
  return workspace.lines(`
    select coalesce(${column}::varchar, rule)
    from (select range::varchar as card, range + 2 as row from range(${cells.length}))
    left join records.rebuild using (card)
    left join (select row, min(rule) as rule from quarantine.finding group by row) r on r.row = card::integer + 2
    order by card::integer`);
}

describe("numbers", () => {
  it.each([
    // Exact conversions: NIST SP 811 (2008), appendix B: 1 in = 25.4 mm, 1 mil = 25.4 um, t/degC = (t/degF - 32)/1.8.
    { field: "end_play", unit: "mm", cell: "0.13", value: 0.13 },
    { field: "end_play", unit: "in", cell: "0.005", value: 0.127 },
    { field: "end_play", unit: "in", cell: ".005", value: 0.127 },
    { field: "end_play", unit: "thou", cell: "5", value: 0.127 },
    { field: "end_play", unit: "um", cell: "127", value: 0.127 },
    { field: "end_play", unit: "0.01mm", cell: "15", value: 0.15 },
    { field: "race_depth", unit: "in", cell: "0.906", value: 23.0124 },
    { field: "spigot_height", unit: "mm", cell: "22.05", value: 22.05 },
    { field: "end_play_unshimmed", unit: "thou", cell: "18", value: 0.4572 },
    { field: "ring_temperature", unit: "C", cell: "100", value: 100 },
    { field: "ring_temperature", unit: "F", cell: "212", value: 100 },
    { field: "ring_temperature", unit: "F", cell: "-40", value: -40 },
    { field: "hours_removed", unit: "h", cell: "1234.5", value: 1234.5 },
    { field: "hours_removed", unit: "d", cell: "10", value: 240 },
    { field: "hours_removed", unit: "h", cell: "1234.5 Std.", value: 1234.5 },
    { field: "speed", unit: "rpm", cell: "1750", value: 1750 },
  ])("take $cell in a column of $unit as $value", async ({ field, unit, cell, value }) => {
    expect(Number((await read(field, `unit: ${unit}`, [cell]))[0])).toBeCloseTo(value, 12);
  });

  // No frame runs 114 years, no shim stack is 5 m: common practice, no source.
  it.each([
    { field: "hours_removed", unit: "h", sound: "1000000", wrong: "1e15" },
    { field: "end_play", unit: "mm", sound: "-0.05", wrong: "-40" },
    { field: "shims", unit: "thou", sound: "60", wrong: "-1" },
    { field: "race_depth", unit: "mm", sound: "22", wrong: "-22" },
    { field: "spigot_height", unit: "thou", sound: "900", wrong: "900000" },
    { field: "end_play_unshimmed", unit: "mm", sound: "-0.05", wrong: "18" },
    { field: "ring_temperature", unit: "F", sound: "213", wrong: "2130" },
    { field: "speed", unit: "rpm", sound: "0", wrong: "-1750" },
  ])(
    "of $field that can't be are refused where the pipeline sets no limits: $wrong $unit",
    async ({ field, unit, sound, wrong }) => {
      const [kept, refused] = await read(field, `unit: ${unit}`, [sound, wrong]);
      expect([kept === "out_of_range", refused]).toEqual([false, "out_of_range"]);
      expect(await read(field, `unit: ${unit}, low: -1e20, high: 1e20`, [wrong])).not.toEqual(["out_of_range"]);
    },
  );

  it("are read by a unit of their own, and the reading is noted", async () => {
    const cells = ["0.13 mm", "5 thou", '.005"', "0.005 in", "127 µm", "5mil", "5 fathoms", "5 C", "thou"];
    const found = await read("end_play", "unit: thou", cells);
    const refused = Array.from({ length: 3 }, () => "not_a_number");
    expect(found.slice(6)).toEqual(refused);
    expect(found.slice(1, 6).map((text) => Number(text).toFixed(12))).toEqual(
      Array.from({ length: 5 }, () => "0.127000000000"),
    );
    expect(Number(found[0])).toBe(0.13);
  });

  it("leave a correction where their own unit was taken", async () => {
    const pipeline = `
title: Cells
record: unit
files: cells.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Unit, tidy: [upper, strip_leading_zeros] }
  speed: { column: Speed }
`;
    const workspace = new ScratchWorkspace(
      { cells: pipeline },
      { "cells.csv": "Unit,Speed\nFA-1,1750\n00fa-2,1750 r/min\n" },
    );
    expect((await workspace.ingest()).files[0]).toMatchObject({ corrected: 1, accepted: 1 });
    expect(await workspace.lines("select row, field, before, after, rule from landing.change order by field")).toEqual([
      "3|speed|1750 r/min|1750.0 rpm|own_unit",
      "3|unit|00fa-2|FA-2|tidied",
    ]);
  });

  it("take the marks declared and no others", async () => {
    const english = [
      "1,234",
      "1,234.5",
      "12,34",
      "1.5",
      "1_000",
      "inf",
      "nan",
      "1 234",
      "",
      "-",
      "1e3",
      "0x10",
      "１２",
    ];
    expect(await read("speed", "unit: rpm", english, 'thousands_mark: ","\nblank: ["-"]')).toEqual([
      "1234.0",
      "1234.5",
      "not_a_number",
      "1.5",
      "not_a_number",
      "not_a_number",
      "not_a_number",
      "not_a_number",
      "-",
      "-",
      "1000.0",
      "not_a_number",
      "not_a_number",
    ]);
    const comma = ["0,13", "1.234,5", "0.13", "1,234.5"];
    expect(await read("speed", "unit: rpm", comma, 'decimal_mark: ","')).toEqual([
      "0.13",
      "not_a_number",
      "not_a_number",
      "not_a_number",
    ]);
    expect(await read("speed", "unit: rpm", comma, 'decimal_mark: ","\nthousands_mark: "."')).toEqual([
      "0.13",
      "1234.5",
      "not_a_number",
      "not_a_number",
    ]);
    expect(await read("speed", "unit: rpm", ["1 234", "1\u00a0234", "12 34"], 'thousands_mark: " "')).toEqual([
      "1234.0",
      "1234.0",
      "not_a_number",
    ]);
  });

  it("lie inside their limits, ends included, in the unit of the field", async () => {
    const found = await read("end_play", "unit: thou, low: 2, high: 7", [
      "2",
      "7",
      "1.99",
      "7.01",
      "0.1778 mm",
      "0.18 mm",
      ".007 in",
    ]);
    expect(found.map((text) => (Number.isNaN(Number(text)) ? text : "taken"))).toEqual([
      "taken",
      "taken",
      "out_of_range",
      "out_of_range",
      "taken",
      "out_of_range",
      "taken",
    ]);
  });

  it("of meters are never below 0, whatever the limits", async () => {
    expect(await read("hours_removed", "low: -10, high: 100", ["-5", "0", "101"])).toEqual([
      "negative_meter",
      "0.0",
      "out_of_range",
    ]);
  });
});

describe("dates", () => {
  it("are read by the declared patterns, in order, and must be days that can be", async () => {
    const cells = [
      "01/02/2023",
      "2023-02-03",
      "31/02/2023",
      "1/2/2023",
      "01/02/23",
      "45292",
      "01/01/2025",
      "02/01/2025",
      "1/1/1949",
    ];
    expect(await read("installed_on", 'dates: ["%d/%m/%Y", "%Y-%m-%d"]', cells)).toEqual([
      "date_order", // installed before the day of receipt, 2024-12-31: the date itself was read
      "date_order",
      "not_a_date",
      "date_order",
      "impossible_date",
      "not_a_date",
      "2025-01-01", // the day after the one it is
      "future_date",
      "impossible_date",
    ]);
  });

  it.each(["America/Los_Angeles", "Pacific/Auckland", "UTC"])("are the same in %s", async (zone) => {
    const before = process.env["TZ"];
    process.env["TZ"] = zone;
    try {
      const found = await read("removed_on", 'dates: ["%d/%m/%Y", "%d/%m/%Y %H:%M", "%d-%b-%y"]', [
        "31/12/2023",
        "31/12/2023 23:59",
        "01/01/2024 00:00",
        "31-Dec-23",
      ]);
      expect(found).toEqual(["2023-12-31", "2023-12-31", "2024-01-01", "2023-12-31"]);
    } finally {
      process.env["TZ"] = before;
    }
  });
});

describe("words", () => {
  const words = 'words: { Broke  down: failure, hours up: planned, "n/k": ~ }';

  it("are compared without regard to case and blanks; one not listed is refused", async () => {
    const cells = ["broke down", "  BROKE   DOWN ", "Hours Up", "n/k", "N/K", "hours  upp", "failure", ""];
    expect(await read("reason", words, cells)).toEqual([
      "failure",
      "failure",
      "planned",
      "unknown", // nothing recorded
      "unknown",
      "unknown",
      "unknown",
      "unknown",
    ]);
  });

  it("name the nearest known word", async () => {
    const pipeline = `
title: Cells
record: rebuild
files: cells.csv
fields: { card: { column: Card }, fleet: { column: Fleet }, unit: { column: Card }, built_on: { value: 2024-01-01 }, lube: { column: Lube } }
`;
    const workspace = new ScratchWorkspace(
      { cells: pipeline },
      { "cells.csv": "Card,Fleet,Lube\n1,Saltmere,gerase\n2,saltmeer,grease\n3,ostrel,xyz\n" },
    );
    await workspace.ingest();
    expect(
      await workspace.lines(
        "select row, rule, split_part(message, ';', 1) || ';' || split_part(message, ';', 2), severity from quarantine.finding order by row",
      ),
    ).toEqual([
      '2|unknown_word|no known word; the nearest known is "grease"|refuse',
      '3|unknown_fleet|no known word; the nearest known is "saltmere"|quarantine',
      "4|unknown_word|no known word; known are oil_bath, grease|refuse",
    ]);
    expect(await workspace.lines("select message from quarantine.finding where rule = 'unknown_fleet'")).toEqual([
      'no known word; the nearest known is "saltmere"; correct the cell, add the word under "words" of fleet in the pipeline, or what it names under "fleets" in framelife.yaml',
    ]);
    expect(await workspace.lines("select fleet, lube from records.rebuild order by card")).toEqual([
      "saltmere|-",
      "ostrel|-",
    ]);
  });

  it("are named as they may be listed where none is", async () => {
    const pipeline = `
title: Cells
record: rebuild
files: cells.csv
fields: { card: { column: Card }, fleet: { value: saltmere }, unit: { column: Card }, built_on: { value: 2024-01-01 }, lube: { column: Lube, words: {} } }
`;
    const workspace = new ScratchWorkspace({ cells: pipeline }, { "cells.csv": "Card,Lube\n1,moly\n" });
    await workspace.ingest();
    expect(await workspace.lines("select message from quarantine.finding")).toEqual([
      'no word is listed; list it under "words" of lube in the pipeline, as one of oil_bath, grease, or as ~ if it says nothing',
    ]);
  });

  it("translate free text where they are given, and leave it alone where not", async () => {
    expect(await read("site", "words: { N: North yard }", ["n", "S"])).toEqual(["North yard", "unknown_word"]);
    expect(await read("site", "tidy: [collapse_blanks]", ["  North   yard ", "Süd"])).toEqual(["North yard", "Süd"]);
  });

  it("fall back to the default where the cell is blank, and only there", async () => {
    expect(await read("lube", "words: { O: oil_bath }, default: grease", ["", "O", "?"])).toEqual([
      "grease",
      "oil_bath",
      "unknown_word",
    ]);
    expect(await read("speed", 'default: "1750"', ["", "900", "x"])).toEqual(["1750.0", "900.0", "not_a_number"]);
    expect(await read("site", 'default: "it\'s; drop"', ["", "N"])).toEqual(["it's; drop", "N"]);
  });
});
