import { describe, expect, it } from "vitest";
import { ScratchWorkspace } from "./scratch-workspace.ts";

const CARDS = (fields: string, more = "") => `
title: Cards
record: rebuild
files: cards.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Card }
  ${fields}
${more}`;

/** Cards of one unit each, with one cell more; what the store finds and holds of them. */
async function cards(fields: string, cells: string[], configuration = ""): Promise<ScratchWorkspace> {
  const workspace = new ScratchWorkspace(
    { cards: CARDS(fields) },
    { "cards.csv": ["Card,Cell", ...cells.map((cell, index) => `${index + 1},${cell}`), ""].join("\n") },
  );
  workspace.configure(configuration);
  await workspace.ingest();
  return workspace;
}

const FINDINGS = "select row, value, rule, severity from quarantine.finding order by row nulls first, rule";

describe("day and month", () => {
  const dates = 'removed_on: { column: Cell, dates: ["%d/%m/%Y"] }';

  it("that could be either way are set aside where the column holds days of both orders", async () => {
    const workspace = await cards(dates, ["13/02/2023", "03/04/2023", "05/05/2023", "02/25/2023"]);
    expect(await workspace.lines(FINDINGS)).toEqual([
      "3|2023-04-03|ambiguous_date|quarantine",
      "5|-|missing|quarantine",
      "5|02/25/2023|not_a_date|refuse",
    ]);
    // 05/05 is the same day either way
    expect(await workspace.lines("select card, removed_on from records.rebuild order by card")).toEqual([
      "1|2023-02-13",
      "3|2023-05-05",
    ]);
    expect(await workspace.lines("select raw from landing.set_aside where row = 3")).toEqual([
      '{"Card":"2","Cell":"03/04/2023"}',
    ]);
  });

  it("are read as declared where nothing speaks against it", async () => {
    const workspace = await cards(dates, ["13/02/2023", "03/04/2023"]);
    expect(await workspace.lines(FINDINGS)).toEqual([]);
    expect(await workspace.lines("select removed_on from records.rebuild order by card")).toEqual([
      "2023-02-13",
      "2023-04-03",
    ]);
  });

  it("are not told by month names, nor by years that come first", async () => {
    const both = 'removed_on: { column: Cell, dates: ["%d-%b-%Y", "%Y-%m-%d"] }';
    const workspace = await cards(both, ["13-Feb-2023", "2023-04-03", "2023-04-13"]);
    expect(await workspace.lines("select count(*) from records.rebuild")).toEqual(["3"]);
    expect(await workspace.lines(FINDINGS)).toEqual([]);
  });

  it("are doubted as a whole where of eight days none lies past the 12th: by chance (12/31)^8 = 0.0005", async () => {
    const eight = Array.from({ length: 8 }, (_, index) => `${index + 1}/11/2023`);
    const told = await cards(dates, eight);
    expect(await told.lines(FINDINGS)).toEqual(["-|-|suspect_day_month|warn"]);
    expect(await told.lines("select count(*) from records.rebuild")).toEqual(["8"]);
    const few = await cards(dates, [...eight.slice(0, 7), ...eight.slice(0, 7)]);
    expect(await few.lines("select rule from quarantine.finding where rule = 'suspect_day_month'")).toEqual([]);
  });

  it("are taken as declared where one day in fifty or fewer is the other way round: a slip of the pen", async () => {
    const sure = Array.from({ length: 49 }, (_, index) => `${13 + (index % 16)}/0${1 + (index % 9)}/2023`);
    const slip = await cards(dates, [...sure, "02/25/2023", "03/04/2023"]);
    expect(await slip.lines("select rule, severity from quarantine.finding where row is null or row = 52")).toEqual([
      "suspect_day_month|warn",
    ]);
    expect(await slip.lines("select removed_on from records.rebuild where card = '51'")).toEqual(["2023-04-03"]);
    const more = await cards(dates, [...sure.slice(1), "02/25/2023", "03/04/2023"]); // 1 of 49
    expect(await more.lines("select rule, severity from quarantine.finding where row = 51")).toEqual([
      "ambiguous_date|quarantine",
    ]);
  });

  it("follow the workspace where it chooses another severity", async () => {
    const workspace = await cards(dates, ["13/02/2023", "03/04/2023", "02/25/2023"], "rules: { ambiguous_date: warn }");
    expect(await workspace.lines("select card, removed_on from records.rebuild order by card")).toEqual([
      "1|2023-02-13",
      "2|2023-04-03",
    ]);
    expect(await workspace.lines("select rule, severity from quarantine.finding where row = 3")).toEqual([
      "ambiguous_date|warn",
    ]);
  });
});

describe("units", () => {
  const day = 'removed_on: { value: "2024-01-01" }';
  const endPlay = `${day}\n  end_play: { column: Cell, unit: thou }`;
  const usual = ["4", "3.5", "5", "6", "4", "3", "5", "4.5"];

  it("that were mixed up are found by the rest of the column: 0.004 among values near 4", async () => {
    const workspace = await cards(endPlay, [...usual, "0.004", "0.13", "127"]);
    expect(await workspace.lines(FINDINGS)).toEqual([
      "10|0.004|unit_mixup|refuse",
      "11|0.13|unit_mixup|refuse",
      "12|127|unit_mixup|refuse",
    ]);
    expect(
      await workspace.lines(
        "select regexp_extract(message, 'were it in (\\w+)', 1) from quarantine.finding order by row",
      ),
    ).toEqual(["inches", "mm", "um"]);
    expect(await workspace.lines("select count(end_play_mm) from records.rebuild")).toEqual(["8"]);
  });

  it("are mended where the workspace says fix, and the cell's own text is kept", async () => {
    const workspace = await cards(endPlay, [...usual, "0.004"], "rules: { unit_mixup: fix }");
    // by hand: 0.004 in = 0.1016 mm
    expect(await workspace.lines("select round(end_play_mm, 9) from records.rebuild where card = '9'")).toEqual([
      "0.1016",
    ]);
    expect(await workspace.lines("select row, field, before, rule from landing.change")).toEqual([
      "10|end_play|0.004|unit_mixup",
    ]);
    expect(await workspace.lines("select corrected from landing.account")).toEqual(["1"]);
  });

  it("are not doubted for a wide spread that its limits allow: a worn frame of 60 thou is no 60 um", async () => {
    const found = `${day}\n  end_play_found: { column: Cell, unit: thou, low: 0, high: 80 }`;
    const workspace = await cards(found, [...usual, "60", "0.2"]);
    expect(await workspace.lines(FINDINGS)).toEqual([]);
  });

  it("explain what lies outside its limits, in place of the plain rule", async () => {
    const limited = `${day}\n  end_play: { column: Cell, unit: thou, low: 0.5, high: 20 }`;
    const workspace = await cards(limited, [...usual, "0.13", "21"]);
    expect(await workspace.lines(FINDINGS)).toEqual(["10|0.13|unit_mixup|refuse", "11|21|out_of_range|refuse"]);
  });

  it("of a whole column are doubted by the workspace's window: thou in a column said to be mm", async () => {
    const window = "windows: { end_play: { low: 2, high: 7, unit: thou, source: common practice } }";
    const workspace = await cards(endPlay.replace("thou", "mm"), usual.slice(0, 3), window);
    expect(await workspace.lines("select distinct rule, value from quarantine.finding order by value")).toEqual([
      "unit_mixup|3.5",
      "unit_mixup|4",
      "unit_mixup|5",
    ]);
  });

  it.each([
    { unit: "C", usual: ["100", "101", "99", "102", "98", "100", "103", "97"], odd: "213", meant: "F" },
    { unit: "F", usual: ["213", "211", "215", "209", "220", "213", "212", "214"], odd: "100", meant: "C" },
  ])("of temperature: $odd in a column of $unit is $meant", async ({ unit, usual: cells, odd, meant }) => {
    const workspace = await cards(`${day}\n  ring_temperature: { column: Cell, unit: ${unit} }`, [...cells, odd]);
    expect(
      await workspace.lines(
        "select row, value, rule, regexp_extract(message, 'were it in (\\w+)', 1) from quarantine.finding order by row",
      ),
    ).toEqual([`10|${odd}|unit_mixup|${meant}`]);
  });
});
