import { describe, expect, it } from "vitest";
import { ScratchWorkspace } from "./scratch-workspace.ts";

const UNITS = (cell: string) => `
title: Units
record: unit
files: units.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Unit }
  ${cell}
`;

async function units(cell: string, lines: string[], configuration = ""): Promise<ScratchWorkspace> {
  const workspace = new ScratchWorkspace(
    { units: UNITS(cell) },
    { "units.csv": ["Unit,Cell", ...lines, ""].join("\n") },
  );
  workspace.configure(configuration);
  await workspace.ingest();
  return workspace;
}

const FINDINGS = "select row, field, value, rule, severity from quarantine.finding where not across order by row, rule";

describe("cells that a spreadsheet has spoiled", () => {
  it("are no values: errors in English and German, columns too narrow", async () => {
    const workspace = await units("model: { column: Cell }", [
      "A,#REF!",
      "B,#N/A",
      "C,#BEZUG!",
      "D,####",
      "E,#12", // a number sign before a number is no error
      "#VALUE!,M",
    ]);
    expect(await workspace.lines(FINDINGS)).toEqual([
      "2|model|#REF!|error_cell|refuse",
      "3|model|#N/A|error_cell|refuse",
      "4|model|#BEZUG!|error_cell|refuse",
      "5|model|####|error_cell|refuse",
      "7|unit|#VALUE!|error_cell|quarantine",
    ]);
    expect(await workspace.lines("select unit, model from records.unit order by unit")).toEqual([
      "A|-",
      "B|-",
      "C|-",
      "D|-",
      "E|#12",
    ]);
  });

  it("have lost the last figures of a unit's number: nothing can bring them back", async () => {
    const workspace = await units("model: { column: Cell }", ["1.23E+11,M", "2E5,M", "A+1,M"]);
    expect(await workspace.lines(FINDINGS)).toEqual(["2|unit|1.23E+11|lost_digits|quarantine"]);
    expect(await workspace.lines("select unit from records.unit order by unit")).toEqual(["2E5", "A+1"]);
  });

  it("may have turned a number into a day", async () => {
    const workspace = await units("model: { column: Cell }", ["3-Jan,M", "Mar-01,M", "FA-1,M"]);
    expect(await workspace.lines(FINDINGS)).toEqual([
      "2|unit|3-Jan|date_like_name|warn",
      "3|unit|Mar-01|date_like_name|warn",
    ]);
  });

  // The systems differ by 1462 days (ECMA-376, part 1, 18.17.4.1); 45292 days after 1899-12-30 is 2024-01-01.
  it.each([
    ["serial-1900", 45_292],
    ["serial-1904", 45_292 - 1462],
  ])("hold days as numbers, read where the pipeline says so: %s, %i", async (system, number) => {
    const workspace = await units(`commissioned_on: { column: Cell, dates: ["%d/%m/%Y", ${system}] }`, [
      `A,${number}`,
      "B,13/05/2020",
      "C,4529",
      `D,${number}.75`,
      `E,"${number},5"`,
    ]);
    expect(await workspace.lines("select row, before, after, rule from landing.change order by row")).toEqual([
      `2|${number}|2024-01-01|serial_date`,
      `5|${number}.75|2024-01-01|serial_date`,
      `6|${number},5|2024-01-01|serial_date`,
    ]);
    expect(await workspace.lines(FINDINGS)).toEqual(["4|commissioned_on|4529|not_a_date|refuse"]);
    expect(await workspace.lines("select unit, commissioned_on from records.unit order by unit")).toEqual([
      "A|2024-01-01",
      "B|2020-05-13",
      "C|-",
      "D|2024-01-01",
      "E|2024-01-01",
    ]);
  });
});

describe("line breaks in cells", () => {
  it("become blanks in names and words, which can be taken back, and stay in remarks", async () => {
    const cards = `
title: Cards
record: rebuild
files: cards.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Card }
  removed_on: { value: "2024-01-01" }
  site: { column: Site }
  remarks: { column: Remarks }
`;
    const workspace = new ScratchWorkspace(
      { cards },
      { "cards.csv": 'Card,Site,Remarks\n1,"North\r\n yard","brg shot\nsee photo"\n' },
    );
    await workspace.ingest();
    expect(await workspace.rows("select site, remarks from records.rebuild")).toEqual([
      { site: "North yard", remarks: "brg shot\nsee photo" },
    ]);
    expect(await workspace.rows("select field, before, after, rule from landing.change")).toEqual([
      { field: "site", before: "North\r\n yard", after: "North yard", rule: "line_break" },
    ]);
  });
});

describe("rows of totals", () => {
  it("are no data where they lack what makes a record, in English and German", async () => {
    const workspace = await units("speed: { column: Cell }", [
      "A,100",
      ",Total: 5",
      ",Summe 12",
      ",Grand total 9",
      ",Gesamt: 1",
      ",Toledo",
      "Total,300",
    ]);
    expect(await workspace.lines("select row, outcome, because from landing.set_aside order by row")).toEqual([
      "3|not_data|row of totals",
      "4|not_data|row of totals",
      "5|not_data|row of totals",
      "6|not_data|row of totals",
      "7|quarantined|missing",
    ]);
    // a unit that is called Total may be one
    expect(await workspace.lines("select unit from records.unit order by unit")).toEqual(["A", "Total"]);
  });
});

describe("headings of a stretch of time", () => {
  it("are no data where nothing else stands in their row", async () => {
    const workspace = await units("speed: { column: Cell }", [
      ",Januar 2024",
      "A,100",
      ",Feb. 24",
      ",mars",
      ",Q2 2024",
      ",KW 12",
      ",May be 300",
      "Mai 2024,300",
    ]);
    expect(await workspace.lines("select row, outcome, because from landing.set_aside order by row")).toEqual([
      "2|not_data|heading",
      "4|not_data|heading",
      "5|not_data|heading",
      "6|not_data|heading",
      "7|not_data|heading",
      "8|quarantined|missing",
    ]);
    // a unit may be called by a month
    expect(await workspace.lines("select unit from records.unit order by unit")).toEqual(["A", "Mai 2024"]);
  });
});

describe("rules chosen in the workspace", () => {
  it("take a value as it stands, refuse it, or set its row aside", async () => {
    const limited = "speed: { column: Cell, low: 100, high: 4000 }";
    const held = "select unit, speed_rpm from records.unit";
    expect(await (await units(limited, ["A,50"])).lines(held)).toEqual(["A|-"]);
    expect(await (await units(limited, ["A,50"], "rules: { out_of_range: warn }")).lines(held)).toEqual(["A|50.0"]);
    expect(await (await units(limited, ["A,50"], "rules: { out_of_range: quarantine }")).lines(held)).toEqual([]);
  });

  it("can refuse a number with a unit of its own", async () => {
    const workspace = await units("speed: { column: Cell }", ["A,50 rpm"], "rules: { own_unit: refuse }");
    expect(await workspace.lines("select speed_rpm from records.unit")).toEqual(["-"]);
    expect(await workspace.lines(FINDINGS)).toEqual(["2|speed|50 rpm|own_unit|refuse"]);
  });

  it.each([
    ["rules: { out_of_rage: warn }", 'there is no rule "out_of_rage"; rules are missing'],
    ["rules: { missing: warn }", 'missing can\'t be "warn"; it can be quarantine'],
  ])("are checked: %s", async (configuration, message) => {
    await expect(units("speed: { column: Cell }", ["A,50"], configuration)).rejects.toThrow(message);
  });
});
