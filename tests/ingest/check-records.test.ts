import { describe, expect, it } from "vitest";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const LONG = `
title: Long cards
record: rebuild
layout: long
files: exports/long*.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Frame }
  removed_on: { column: Out, dates: ["%d/%m/%Y"] }
  end_play: { column: EP, unit: mm }
  fitter: { column: Fitter }
  slot: { column: Slot, words: { DE: drive_end_bearings, PE: pump_end_bearing } }
  fitted: { column: New, words: { Y: yes, N: no } }
`;

const MEASURED = `
title: Bench
record: rebuild
layout: measured
files: exports/bench*.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  measure: { column: What }
measures:
  EP: { field: end_play, column: Value, unit: thou }
`;

const UNITS = `
title: Units
record: unit
files: exports/units*.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
  model: { column: Model }
  commissioned_on: { column: New, dates: ["%d/%m/%Y"] }
  listed_on: { column: Listed, dates: ["%d/%m/%Y"] }
`;

const ROUNDS = `
title: Rounds
record: reading
files: exports/rounds*.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
  read_on: { column: Day, dates: ["%d/%m/%Y"] }
  hours: { column: Hours }
  meter_changed: { column: Changed, words: { Y: yes, N: no } }
  old_meter_hours: { column: Old }
`;

const RETIRED = `
title: Retired
record: retirement
files: exports/retired*.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
  retired_on: { column: Day, dates: ["%d/%m/%Y"] }
`;

const STOCK = `
title: Shelf
record: stock
files: exports/stock*.csv
fields:
  part: { column: Part }
  on_hand: { column: Have }
`;

const CONDITIONS = `
title: Conditions found
record: rebuild
layout: long
files: exports/found*.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Frame }
  removed_on: { column: Out, dates: ["%d/%m/%Y"] }
  slot: { column: Slot, words: { DE: drive_end_bearings, PE: pump_end_bearing } }
  condition: { column: Found, words: { bad: failed, good: serviceable } }
`;

const PIPELINES = {
  found: CONDITIONS,
  cards: CARDS,
  long: LONG,
  bench: MEASURED,
  units: UNITS,
  rounds: ROUNDS,
  retired: RETIRED,
  stock: STOCK,
};

const HEADERS: Record<string, string> = {
  found: "Card,Frame,Out,Slot,Found",
  cards: CARD_HEADER,
  long: "Card,Frame,Out,EP,Fitter,Slot,New",
  bench: "Card,What,Value",
  units: "Frame,Model,New,Listed",
  rounds: "Frame,Day,Hours,Changed,Old",
  retired: "Frame,Day",
  stock: "Part,Have",
};

/** A workspace with the exports given, each with its header; the pipeline of each is its name without figures. */
function workspaceOf(exports: Record<string, string[]>): ScratchWorkspace {
  const kinds = Object.keys(exports).map((name) => name.replace(/\d+$/, ""));
  const pipelines = Object.entries(PIPELINES).filter(([name]) => kinds.includes(name));
  const files = Object.entries(exports).map(([name, rows]) => [`exports/${name}.csv`, textOf(name, rows)]);
  return new ScratchWorkspace(Object.fromEntries(pipelines), Object.fromEntries(files));
}

const textOf = (name: string, rows: string[]) => `${[HEADERS[name.replace(/\d+$/, "")], ...rows].join("\n")}\n`;

const FOUND = `select parse_filename(path, true) as file, row, field, value, rule, severity from quarantine.finding join landing.file using (file_id)
  where across order by file, row, rule, field`;

async function found(exports: Record<string, string[]>): Promise<string[]> {
  const workspace = workspaceOf(exports);
  await workspace.ingest();
  return workspace.lines(FOUND);
}

async function messages(workspace: ScratchWorkspace, rule: string): Promise<string[]> {
  const texts = await workspace.lines(
    `select message from quarantine.finding where rule = '${rule}' order by row, message`,
  );
  return texts;
}

describe("cards that can't both be", () => {
  it("sets the later of two cards of one unit and day aside, and names the first", async () => {
    const workspace = workspaceOf({
      cards: ["1,F1,05/01/2020,20/01/2020,100,failed,5,Y,bad", "2,F1,05/01/2020,21/01/2020,100,failed,5,Y,bad"],
    });
    await workspace.ingest();
    expect(await workspace.lines(FOUND)).toEqual(["cards|3|removed_on|2020-01-05|same_day_card|quarantine"]);
    expect(await messages(workspace, "same_day_card")).toEqual([
      "F1 came out on 2020-01-05 by card 1 too (row 2 of exports/cards.csv); leave one of the two out of the export, or correct the day or the unit",
    ]);
    expect(await workspace.lines("select card from records.rebuild")).toEqual(["1"]);
    expect(await workspace.lines("select distinct card from records.fitting")).toEqual(["1"]);
  });

  it("finds a unit taken out before it went back, also by a card further back", async () => {
    const rows = [
      "1,F1,01/01/2020,01/06/2020,,planned,,Y,good", // in the shop until June
      "2,F1,01/02/2020,10/02/2020,,planned,,Y,good", // meanwhile
      "3,F1,01/03/2020,10/03/2020,,planned,,Y,good", // after card 2, still within card 1
      "4,F1,01/06/2020,10/06/2020,,planned,,Y,good", // on the day that card 1 ends
    ];
    expect(await found({ cards: rows })).toEqual([
      "cards|3|removed_on|2020-02-01|overlap|warn",
      "cards|4|removed_on|2020-03-01|overlap|warn",
    ]);
  });

  it("finds a card number that stood for another unit, and says where", async () => {
    const workspace = workspaceOf({
      cards1: ["1,F1,05/01/2020,,,failed,,,"],
      cards2: ["1,F2,05/01/2020,,,failed,,,"],
    });
    await workspace.ingest();
    expect(await workspace.lines(FOUND)).toEqual(["cards2|2|unit|F2|card_of_two_units|warn"]);
    expect((await messages(workspace, "card_of_two_units"))[0]).toContain("unit F1 in row 2 of exports/cards1.csv");
  });

  it("finds a card number used again for a later visit of the unit, which would lose the first", async () => {
    const workspace = workspaceOf({
      cards1: ["1,F1,05/01/2020,,,failed,,,", "2,F1,05/06/2020,,,failed,,,"],
      cards2: ["1,F1,05/01/2021,,,failed,,,", "2,F1,06/06/2020,,,failed,,,"], // the second: a day corrected
    });
    await workspace.ingest();
    expect(await workspace.lines(FOUND)).toEqual(["cards2|2|card|1|card_used_again|warn"]);
    expect((await messages(workspace, "card_used_again"))[0]).toContain(
      "out on 2020-01-05 in row 2 of exports/cards1.csv",
    );
  });

  it("finds a record that stands twice in one file, in different words, and says which row counts", async () => {
    const workspace = workspaceOf({
      cards: [
        "1,F1,05/01/2020,,,failed,5,,",
        "1,F1,05/01/2020,,,failed,6,,",
        "2,F2,05/01/2020,,,failed,,,",
        "2,F2,05/01/2020,,,failed,,,",
      ],
      rounds: ["F1,05/02/2020,100,,", "F1,05/02/2020,120,,"],
      stock: ["B1,2", "B1,3"],
      // Two states of a unit, of two days: that is what a list tells.
      units: ["F1,M1,01/01/2019,01/01/2020", "F1,M2,01/01/2019,01/01/2021"],
    });
    await workspace.ingest();
    expect(await workspace.lines(FOUND)).toEqual([
      "cards|3|row|-|told_twice|warn",
      "rounds|3|row|-|told_twice|warn",
      "stock|3|row|-|told_twice|warn",
    ]);
    expect(await messages(workspace, "told_twice")).toEqual(
      [
        'the same card number stands in row 2 of the file too, with other values; only this row counts; if they are two jobs, give them card numbers of their own, or set "layout: long" if each row is of one component; else take the old one out',
        "the same part, place and day stands in row 2 of the file too, with other values; only this row counts; take the one that is wrong out of the export",
        "the same unit and day stands in row 2 of the file too, with other values; only this row counts; take the one that is wrong out of the export",
      ].toSorted(),
    );
    expect(await workspace.lines("select card, end_play_mm from records.rebuild order by card")).toEqual([
      "1|0.1524",
      "2|-",
    ]);
  });

  it("finds rows of one card that contradict each other, in what is the card's, and says which counts", async () => {
    const workspace = workspaceOf({
      long: [
        "1,F1,05/01/2020,0.1,A,DE,Y",
        "1,F2,05/01/2020,,B,PE,N",
        "2,F3,05/02/2020,0.1,A,DE,Y",
        "2,F3,,0.104,B,PE,Y",
      ],
    });
    await workspace.ingest();
    // 0.104 mm differs from 0.1 mm by less than what two decimals round away; another fitter may do the other end.
    expect(await workspace.lines(FOUND)).toEqual(["long|3|unit|F2|contradicting_rows|warn"]);
    expect(await messages(workspace, "contradicting_rows")).toEqual([
      'card 1 says unit "F1" in row 2 of exports/long.csv, which counts, and "F2" here; correct the one that is wrong',
    ]);
  });

  it("finds rows of one card that contradict each other on a slot, and says which counts", async () => {
    const workspace = workspaceOf({
      found: [
        "1,F1,05/01/2020,DE,bad",
        "1,F1,05/01/2020,DE,good",
        "1,F1,05/01/2020,PE,good",
        "1,F1,05/01/2020,PE,good",
      ],
    });
    await workspace.ingest();
    expect((await workspace.lines(FOUND)).filter((line) => line.includes("contradicting_rows"))).toEqual([
      "found|3|drive_end_bearings.condition|serviceable|contradicting_rows|warn",
    ]);
    expect(await messages(workspace, "contradicting_rows")).toEqual([
      'card 1 says drive_end_bearings.condition "failed" in row 2 of exports/found.csv, and "serviceable" here; the worse one counts; correct the one that is wrong',
    ]);
  });

  it("weighs a measured value against its card, and against the same one measured again, of which the last counts", async () => {
    const rows = await found({
      cards: ["1,F1,05/01/2020,,,failed,5,,", "2,F2,05/01/2020,,,failed,,,"],
      bench: ["1,EP,7", "2,EP,4", "2,EP,6"],
    });
    // 7 x 0.0254 = 0.1778, 4 x 0.0254 = 0.1016
    expect(rows).toEqual([
      "bench|2|end_play|0.1778 mm|contradicting_rows|warn",
      "bench|3|end_play|0.1016 mm|contradicting_rows|warn",
    ]);
  });
});

describe("records outside a unit's service", () => {
  it("finds what lies before commissioning and after retirement", async () => {
    const rows = await found({
      cards: ["1,F1,05/01/2020,,,failed,,,", "2,F1,05/01/2022,,,failed,,,", "3,F2,05/01/2022,,,failed,,,"],
      units: ["F1,M,01/06/2020,01/06/2023", "F2,M,05/01/2022,01/06/2022"],
      rounds: ["F1,01/05/2020,5,,", "F1,01/07/2022,55,,", "F2,01/07/2022,6,,"],
      retired: ["F1,01/01/2022", "F2,01/07/2022"],
    });
    expect(rows).toEqual([
      "cards|2|removed_on|2020-01-05|before_commissioning|warn",
      "cards|3|removed_on|2022-01-05|after_retirement|warn",
      "rounds|2|read_on|2020-05-01|before_commissioning|warn",
      "rounds|3|read_on|2022-07-01|after_retirement|warn",
      "units|2|listed_on|2023-06-01|after_retirement|warn",
    ]);
  });
});

describe("hour meters", () => {
  const rounds = (...rows: string[]) => found({ rounds: rows });

  it("find a meter that shows less than before", async () => {
    const workspace = workspaceOf({ rounds: ["F1,01/01/2020,5000,,", "F1,01/02/2020,400,,", "F1,01/03/2020,900,,"] });
    await workspace.ingest();
    expect(await workspace.lines(FOUND)).toEqual(["rounds|3|hours|400 h|meter_backwards|warn"]);
    expect(await messages(workspace, "meter_backwards")).toEqual([
      "F1 shows 400 h on 2020-02-01, and 5000 h on 2020-01-01 (row 2 of exports/rounds.csv); no hours are counted across the gap; correct the one that is wrong, or say that the meter was changed",
    ]);
  });

  it("find over 24 hours a day, and let 24 pass", async () => {
    // 31 days from day to day may be 32 x 24 = 768 h.
    expect(
      await rounds("F1,01/01/2020,0,,", "F1,01/02/2020,768,,", "F2,01/01/2020,0,,", "F2,01/02/2020,769,,"),
    ).toEqual(["rounds|5|hours|769 h|impossible_rate|warn"]);
  });

  it("doubt one reading that is out of line, not the next one too", async () => {
    expect(await rounds("F1,01/01/2020,5000,,", "F1,01/02/2020,53000,,", "F1,01/03/2020,5200,,")).toEqual([
      "rounds|3|hours|53000 h|impossible_rate|warn",
    ]);
  });

  it("tell a rollover, a change of meter, and one whose last figure nobody wrote down", async () => {
    expect(
      await rounds(
        "F1,01/01/2020,99900,,",
        "F1,01/02/2020,120,,", // 100,000 - 99,900 + 120 = 220 h in 31 days
        "F2,01/01/2020,5000,,",
        "F2,01/02/2020,30,Y,5100",
        "F3,01/01/2020,5000,,",
        "F3,01/02/2020,30,Y,",
      ),
    ).toEqual([
      "rounds|3|hours|120 h|meter_rollover|warn",
      "rounds|5|hours|30 h|meter_changed|warn",
      "rounds|7|hours|30 h|meter_changed|warn",
    ]);
  });

  it("find a meter that stood for over 60 days in service, once for the stretch, and not for 60", async () => {
    expect(
      await rounds(
        "F1,01/01/2020,500,,",
        "F1,01/02/2020,500,,",
        "F1,02/03/2020,500,,", // 31 + 30 = 61 days; 2020 has a 29 February
        "F2,01/01/2020,500,,",
        "F2,01/03/2020,500,,", // 60 days
      ),
    ).toEqual(["rounds|4|hours|500 h|meter_stuck|warn"]);
  });

  it("count no time in the shop as standing still", async () => {
    expect(await found({ cards: ["1,F1,01/01/2020,01/06/2020,500,planned,,Y,good"] })).toEqual([]);
  });

  it("doubt the day of commissioning where the meter can't have run so far since", async () => {
    expect(
      await found({ units: ["F1,M,01/01/2020,"], rounds: ["F1,01/02/2020,50000,,", "F1,01/03/2020,50100,,"] }),
    ).toEqual(["units|2|commissioned_on|2020-01-01|impossible_rate|warn"]);
  });
});

describe("what cards leave out", () => {
  it("finds what failed and was not replaced, but not on a card that is still open", async () => {
    const rows = [
      "1,F1,05/01/2020,20/01/2020,,failed,,N,bad",
      "2,F2,05/01/2020,20/01/2020,,failed,,,bad",
      "3,F3,05/01/2020,,,failed,,N,bad", // not built yet
      "4,F4,05/01/2020,20/01/2020,,failed,,Y,bad",
    ];
    expect(await found({ cards: rows })).toEqual([
      "cards|2|drive_end_bearings.fitted|no|failed_not_replaced|warn",
      "cards|3|drive_end_bearings.fitted|-|failed_not_replaced|warn",
    ]);
  });

  it("finds what was replaced without a word, where other cards of the file have one", async () => {
    const rows = ["1,F1,05/01/2020,,,failed,,Y,", "2,F2,05/01/2020,,,failed,,Y,good"];
    expect(await found({ cards: rows })).toEqual(["cards|2|drive_end_bearings.condition|-|replaced_no_condition|warn"]);
    expect(await found({ cards: rows.slice(0, 1) })).toEqual([]);
  });

  it("finds measured values of no card, once a card", async () => {
    expect(await found({ cards: ["1,F1,05/01/2020,,,failed,,,"], bench: ["1,EP,5", "9,EP,5", "9,EP,6"] })).toEqual([
      "bench|3|card|9|measure_without_card|warn",
    ]);
  });

  it("finds less than nothing on the shelf", async () => {
    expect(await found({ stock: ["B1,-2", "B2,0"] })).toEqual(["stock|2|on_hand|-2|negative_stock|warn"]);
  });
});

describe("a newer export of a file", () => {
  it("that lacks a record has it told, until it is forgotten or comes back", async () => {
    const [one, two] = ["1,F1,05/01/2020,,,failed,,,", "2,F2,05/01/2020,,,failed,,,"];
    const workspace = workspaceOf({ cards: [one, two] });
    await workspace.ingest();
    workspace.write("exports/cards.csv", textOf("cards", [one]));
    await workspace.ingest();
    expect(await workspace.lines(FOUND)).toEqual(["cards|3|row|-|vanished_row|warn"]);
    await workspace.ingest(undefined, { forget: true });
    expect(await workspace.lines(FOUND)).toEqual([]);
    workspace.write("exports/cards.csv", textOf("cards", [one, two]));
    await workspace.ingest();
    expect(await workspace.lines(FOUND)).toEqual([]);
  });
});

describe("a rule of the workspace", () => {
  it("takes records out and brings them back, with the account in step", async () => {
    const workspace = workspaceOf({
      cards: [
        "1,F1,01/01/2020,01/06/2020,,planned,,Y,good",
        "2,F1,01/02/2020,10/02/2020,,planned,,Y,good",
        "3,F1,01/08/2020,10/08/2020,,planned,,Y,good",
      ],
    });
    const state = async () => {
      const report = await workspace.ingest();
      const { quarantined, accepted, read, warnings } = report.files[0]!;
      return {
        quarantined,
        accepted,
        read,
        warnings,
        cards: await workspace.lines("select card from records.rebuild order by 1"),
      };
    };
    const warned = { quarantined: 0, accepted: 3, read: 3, warnings: 1, cards: ["1", "2", "3"] };
    expect(await state()).toEqual(warned);
    workspace.configure("rules: { overlap: quarantine }");
    expect(await state()).toEqual({ quarantined: 1, accepted: 2, read: 3, warnings: 0, cards: ["1", "3"] });
    expect(await workspace.lines("select count(*) from records.fitting where card = '2'")).toEqual(["0"]);
    workspace.configure("");
    expect(await state()).toEqual(warned);
  });

  it("is asked again when another order of the files makes another card the later one", async () => {
    const workspace = workspaceOf({
      cards1: ["1,F1,05/01/2020,,,failed,,,"],
      cards2: ["2,F1,05/01/2020,,,failed,,,"],
    });
    await workspace.ingest();
    expect(await workspace.lines("select card from records.rebuild")).toEqual(["1"]);
    workspace.setPipeline("cards", CARDS.replace("exports/cards*.csv", "[exports/cards2.csv, exports/cards1.csv]"));
    await workspace.ingest();
    expect(await workspace.lines("select card from records.rebuild")).toEqual(["2"]);
  });

  it("reads no export anew for it", async () => {
    const workspace = workspaceOf({ cards: ["1,F1,01/01/2020,01/06/2020,,planned,,Y,good"] });
    await workspace.ingest();
    workspace.configure("rules: { overlap: quarantine }");
    expect((await workspace.ingest()).files[0]?.unchanged).toBe(true);
  });

  it("hides what it set aside from the checks after it", async () => {
    const rows = ["1,F1,05/01/2020,20/01/2020,9000,failed,,Y,good", "2,F1,05/01/2020,21/01/2020,10,failed,,N,bad"];
    expect(await found({ cards: rows })).toEqual(["cards|3|removed_on|2020-01-05|same_day_card|quarantine"]);
  });
});
