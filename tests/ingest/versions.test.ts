import { describe, expect, it } from "vitest";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const file = (...rows: string[]) => [CARD_HEADER, ...rows, ""].join("\n");
const card1 = "1,FA-1,01/02/2023,03/02/2023,1234,failed,5,Y,bad";
const card1Changed = "1,FA-1,01/02/2023,04/02/2023,1234,failed,5,Y,bad";
const card2 = "2,FA-2,01/02/2023,03/02/2023,900,failed,5,Y,bad";

const STANDING = `
  select path, row, standing
  from records.rebuild_row join landing.file using (file_id) order by path, row`;

describe("versions of a record", () => {
  it("make a changed card supersede the older one, in its own file's account too, and keep both", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards-1.csv": file(card1, card2) });
    await workspace.ingest();
    workspace.write("exports/cards-2.csv", file(card1Changed, card2));
    const { files } = await workspace.ingest();
    expect(files).toMatchObject([
      { path: "exports/cards-1.csv", unchanged: true, read: 2, superseded: 1, accepted: 1 },
      { path: "exports/cards-2.csv", unchanged: false, read: 2, duplicate: 1, accepted: 1 },
    ]);
    expect(await workspace.lines(STANDING)).toEqual([
      "exports/cards-1.csv|2|superseded",
      "exports/cards-1.csv|3|current",
      "exports/cards-2.csv|2|current",
      "exports/cards-2.csv|3|duplicate",
    ]);
    expect(await workspace.lines("select card, built_on from records.rebuild order by card")).toEqual([
      "1|2023-02-04",
      "2|2023-02-03",
    ]);
    expect(await workspace.lines("select card, slot, standing from records.fitting_row order by all")).toEqual([
      "1|drive_end_bearings|current",
      "1|drive_end_bearings|superseded",
      "2|drive_end_bearings|current",
      "2|drive_end_bearings|duplicate",
    ]);
  });

  it("take the export of the same name anew when its bytes change, and the older one's account stays", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": file(card1) });
    await workspace.ingest();
    workspace.write("exports/cards.csv", file(card1, card2));
    await workspace.ingest();
    expect(
      await workspace.lines("select path, rows_read, duplicate, accepted from landing.account order by file_id"),
    ).toEqual(["exports/cards.csv|1|0|1", "exports/cards.csv|2|1|1"]);
  });

  it("let a card that was changed back stand as it was", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards.csv": file(card1, card1Changed, card1, card1) },
    );
    const { files } = await workspace.ingest();
    expect(files[0]).toMatchObject({ superseded: 2, accepted: 1, duplicate: 1 });
    expect(await workspace.lines("select row, built_on from records.rebuild")).toEqual(["4|2023-02-03"]);
  });

  it("read a file anew in its old place when its pipeline changes, so that later files still win", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards-1.csv": file(card1, card2), "exports/cards-2.csv": file(card1Changed) },
    );
    await workspace.ingest();
    workspace.setPipeline("cards", CARDS.replace("hours up: planned", "hours up: opportunity"));
    const { files } = await workspace.ingest();
    expect(files).toMatchObject([
      { path: "exports/cards-1.csv", unchanged: false, superseded: 1, accepted: 1 },
      { path: "exports/cards-2.csv", unchanged: false, superseded: 0, accepted: 1 },
    ]);
    expect(await workspace.lines("select count(*) from landing.file")).toEqual(["2"]);
    expect(await workspace.lines(STANDING)).toEqual([
      "exports/cards-1.csv|2|superseded",
      "exports/cards-1.csv|3|current",
      "exports/cards-2.csv|2|current",
    ]);
  });

  it("make an older version current again when the newer one's file no longer yields it", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS, later: CARDS.replace("exports/cards*.csv", "exports/later.csv") },
      { "exports/cards.csv": file(card1), "exports/later.csv": file(card1Changed) },
    );
    await workspace.ingest();
    const total = `${CARDS.replace("exports/cards*.csv", "exports/later.csv")}not_data: [{ column: Card, matches: "1" }]\n`;
    workspace.setPipeline("later", total);
    const { files } = await workspace.ingest();
    expect(files).toMatchObject([
      { path: "exports/cards.csv", unchanged: true, superseded: 0, accepted: 1 },
      { path: "exports/later.csv", unchanged: false, notData: 1, accepted: 0 },
    ]);
    expect(await workspace.lines("select card, built_on from records.rebuild")).toEqual(["1|2023-02-03"]);
  });

  it("keep cards of the same number apart by fleet", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS, other: CARDS.replace("value: saltmere", "value: ostrel").replace("cards*", "other") },
      { "exports/cards.csv": file(card1), "exports/other.csv": file(card1) },
    );
    const { files } = await workspace.ingest();
    expect(files.map(({ accepted, duplicate }) => [accepted, duplicate])).toEqual([
      [1, 0],
      [1, 0],
    ]);
  });

  it("hold for units, readings and retirements by their own keys", async () => {
    const fields = "fleet: { value: saltmere }\n  unit: { column: Frame }";
    const workspace = new ScratchWorkspace(
      {
        units: `title: Units\nrecord: unit\nfiles: units*.csv\nfields:\n  ${fields}\n  model: { column: Model }\n`,
        rounds: `title: Rounds\nrecord: reading\nfiles: rounds.csv\nfields:\n  ${fields}\n  read_on: { column: Day, dates: ["%Y-%m-%d"] }\n  hours: { column: Hours, unit: d }\n`,
        gone: `title: Gone\nrecord: retirement\nfiles: gone.csv\nfields:\n  ${fields}\n  retired_on: { column: Day, dates: ["%Y-%m-%d"] }\n`,
      },
      {
        "units-1.csv": "Frame,Model\nFA-1,M1\nFA-2,M1\n",
        "units-2.csv": "Frame,Model\nFA-1,M2\nFA-2,M1\n",
        "rounds.csv":
          "Frame,Day,Hours\nFA-1,2023-01-01,10\nFA-1,2023-01-02,11\nFA-1,2023-01-02,12\nFA-1,2023-01-01,10\n",
        "gone.csv": "Frame,Day\nFA-2,2024-01-01\nFA-2,2024-01-02\n,2024-01-03\n",
      },
    );
    const { files } = await workspace.ingest();
    expect(
      files.map(({ path, ...counts }) => [
        path,
        counts.superseded,
        counts.duplicate,
        counts.quarantined,
        counts.accepted,
      ]),
    ).toEqual([
      ["units-1.csv", 1, 0, 0, 1],
      ["units-2.csv", 0, 1, 0, 1],
      ["rounds.csv", 1, 1, 0, 2],
      ["gone.csv", 1, 0, 1, 1],
    ]);
    expect(await workspace.lines("select unit, model from records.unit order by unit")).toEqual(["FA-1|M2", "FA-2|M1"]);
    // 10 and 12 days of 24 hours
    expect(await workspace.lines("select read_on, hours, meter_changed from records.reading order by read_on")).toEqual(
      ["2023-01-01|240.0|false", "2023-01-02|288.0|false"],
    );
    expect(await workspace.lines("select unit, retired_on from records.retirement")).toEqual(["FA-2|2024-01-02"]);
  });
});

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
  built_on: { column: Built, dates: ["%d/%m/%Y"] }
  hours_removed: { column: Meter }
  reason: { column: Why, words: { failed: failure, hours up: planned } }
  end_play: { column: End play, unit: mm, low: 0.01, high: 0.5 }
  slot: { column: Place, words: { DE: drive_end_bearings, PE: pump_end_bearing } }
  fitted: { column: New, words: { Y: yes, N: no } }
  condition: { column: Found, words: { bad: failed, good: serviceable } }
`;
const LONG_HEADER = "Card,Frame,Out,Built,Meter,Why,End play,Place,New,Found";
const long = (...rows: string[]) => [LONG_HEADER, ...rows, ""].join("\n");
const de = "1,FA-1,01/02/2023,03/02/2023,1234,failed,0.127,DE,Y,bad";
const pe = "1,FA-1,01/02/2023,03/02/2023,1234,failed,0.127,PE,N,good";

describe("long cards", () => {
  it("give the same records as wide ones", async () => {
    const wide = `${CARDS}  pump_end_bearing:
    fitted: { column: PE new, words: { Y: yes, N: no } }
    condition: { column: PE found, words: { bad: failed, good: serviceable } }
`;
    const one = new ScratchWorkspace(
      { wide },
      { "exports/cards.csv": `${CARD_HEADER},PE new,PE found\n${card1},N,good\n` },
    );
    const other = new ScratchWorkspace({ long: LONG }, { "exports/long.csv": long(de, pe) });
    await one.ingest();
    await other.ingest();
    for (const sql of [
      "select * exclude (file_id, row) replace (round(end_play_mm, 9) as end_play_mm) from records.rebuild",
      "select * exclude (file_id, row) from records.fitting order by slot",
    ]) {
      expect(await other.lines(sql)).toEqual(await one.lines(sql));
    }
    expect(await other.lines("select slot, fitted, condition from records.fitting order by slot")).toEqual([
      "drive_end_bearings|true|failed",
      "pump_end_bearing|false|serviceable",
    ]);
  });

  it("are one version per file, whatever the order of their rows; a row twice is a duplicate", async () => {
    const workspace = new ScratchWorkspace({ long: LONG }, { "exports/long-1.csv": long(de, pe, de) });
    expect((await workspace.ingest()).files[0]).toMatchObject({ read: 3, duplicate: 1, accepted: 2 });
    workspace.write("exports/long-2.csv", long(pe, de));
    expect((await workspace.ingest()).files[1]).toMatchObject({ read: 2, duplicate: 2, accepted: 0 });
    workspace.write("exports/long-3.csv", long(de.replace("bad", "good"), pe));
    expect((await workspace.ingest()).files).toMatchObject([
      { superseded: 2, duplicate: 1, accepted: 0 },
      { duplicate: 2 },
      { duplicate: 0, accepted: 2 },
    ]);
    expect(await workspace.lines("select slot, condition from records.fitting order by slot")).toEqual([
      "drive_end_bearings|serviceable",
      "pump_end_bearing|serviceable",
    ]);
  });

  it("are refused by the row: an unknown slot, or none where a component is spoken of", async () => {
    const workspace = new ScratchWorkspace(
      { long: LONG },
      { "exports/long.csv": long(de, pe.replace("PE", "XX"), pe.replace("PE", ""), "2,FA-2,01/02/2023,,,,,,,") },
    );
    expect((await workspace.ingest()).files[0]).toMatchObject({
      quarantined: 2,
      accepted: 2,
      rules: { unknown_slot: 1, missing: 1 },
    });
    expect(await workspace.lines("select card from records.fitting")).toEqual(["1"]);
  });
});
