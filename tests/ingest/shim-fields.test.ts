import { describe, expect, it } from "vitest";
import { runStep } from "../../src/store/run-step.ts";
import { CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const WIDE = CARDS.replace(
  "slots:\n",
  "  shims: { column: Shims, unit: thou, low: 0, high: 100 }\n  end_play_unshimmed: { column: Without shims, unit: thou, low: 0, high: 150 }\nslots:\n",
).replace("cards*", "wide*");
const LONG = `
title: Cards of several rows
record: rebuild
layout: long
files: exports/long*.csv
fields:
  card: { column: Card }
  fleet: { value: ostrel }
  unit: { column: Frame }
  removed_on: { value: 2020-01-05 }
  race_depth: { column: Depth, unit: mm, low: 5, high: 60 }
  spigot_height: { column: Spigot, unit: mm, low: 5, high: 60 }
  slot: { column: Where, words: { DE: drive_end_bearings, PE: pump_end_bearing } }
  fitted: { column: New, words: { Y: yes, N: no } }
`;
const MEASURED = `
title: Measurements
record: rebuild
layout: measured
files: exports/bench*.csv
fields:
  card: { column: Card }
  fleet: { value: ostrel }
  measure: { column: What }
measures:
  depth: { field: race_depth, column: Value, unit: in }
  spigot: { field: spigot_height, column: Value, unit: in }
  play without shims: { field: end_play_unshimmed, column: Value, unit: thou }
`;
const WIDE_HEADER = "Card,Frame,Out,Built,Meter,Why,End play,DE new,DE found,Shims,Without shims";
const text = (...lines: string[]) => [...lines, ""].join("\n");

const KEPT = `select card, round(race_depth_mm, 6), round(spigot_height_mm, 6), round(end_play_unshimmed_mm, 6), round(shims_mm, 6), fitter
  from records.rebuild order by fleet desc, card`;

describe("what shims are reckoned from", () => {
  it("is read off wide, long and measured cards, in any unit of length", async () => {
    const workspace = new ScratchWorkspace(
      { wide: WIDE, long: LONG, bench: MEASURED },
      {
        "exports/wide.csv": text(WIDE_HEADER, "1,FA-1,05/01/2020,,,failed,4,Y,bad,14,18"),
        "exports/long.csv": text(
          "Card,Frame,Where,New,Depth,Spigot",
          "7,OQ-1,DE,Y,22.45,",
          "7,OQ-1,PE,Y,22.45,21.99",
          "8,OQ-2,DE,Y,,",
          "8,OQ-2,PE,N,22.45,22.02",
          "8,OQ-2,PE,N,22.48,22.02",
        ),
        "exports/bench.csv": text("Card,What,Value", "7,play without shims,18", "9,depth,0.9", "7,spigot,0.9"),
      },
    );
    await workspace.ingest();
    // by hand: 18 thou = 0.4572 mm, 14 thou = 0.3556 mm; a card's own value comes before one measured apart
    expect(await workspace.lines(KEPT)).toEqual([
      "1|-|-|0.4572|0.3556|-",
      "7|22.45|21.99|0.4572|-|-",
      "8|22.45|22.02|-|-|-",
    ]);
    // by hand: 0.9 in = 22.86 mm against 21.99; 22.48 against 22.45
    expect(
      await workspace.lines(
        "select row, field, value, rule from quarantine.finding where across and rule = 'contradicting_rows' order by field, row",
      ),
    ).toEqual(["6|race_depth|22.48 mm|contradicting_rows", "4|spigot_height|22.86 mm|contradicting_rows"]);
  });

  it("is asked of the fleets that ever record it, each by its own way", async () => {
    const workspace = new ScratchWorkspace(
      { wide: WIDE, long: LONG },
      {
        "exports/wide.csv": text(
          WIDE_HEADER,
          "1,FA-1,05/01/2020,,,failed,4,Y,bad,14,18",
          "2,FA-2,05/01/2020,,,failed,4,Y,bad,14,",
        ),
        "exports/long.csv": text("Card,Frame,Where,New,Depth,Spigot", "7,OQ-1,DE,Y,22.45,", "8,OQ-2,DE,Y,,"),
      },
    );
    await workspace.ingest();
    await runStep(await workspace.connection(), "52_completeness", { as_of: null, fleet: null });
    const asked = `select fleet, field, records, have from completeness
      where record = 'rebuild' and field in ('race_depth', 'spigot_height', 'end_play_unshimmed') order by fleet, place`;
    expect(await workspace.lines(asked)).toEqual([
      "ostrel|race_depth|2|1",
      "ostrel|spigot_height|2|0",
      "saltmere|end_play_unshimmed|2|1",
    ]);
  });

  it("in thou among millimetres is refused as a mix-up of units", async () => {
    const cells = ["22.41", "22.5", "22.38", "22.44", "22.47", "22.5", "22.39", "22.43", "882"];
    const workspace = new ScratchWorkspace(
      { long: LONG.replace(", low: 5, high: 60", ", low: 15, high: 60") },
      {
        "exports/long.csv": text(
          "Card,Frame,Where,New,Depth,Spigot",
          ...cells.map((cell, card) => `${card + 1},OQ-${card},DE,Y,${cell},`),
        ),
      },
    );
    await workspace.ingest();
    // by hand: 882 thou = 22.4 mm
    expect(
      await workspace.lines("select row, field, value, rule from quarantine.finding where field = 'race_depth'"),
    ).toEqual(["10|race_depth|882|unit_mixup"]);
  });

  it("goes into a store of version 2 as into a new one; files read before are not read again", async () => {
    const workspace = new ScratchWorkspace(
      { wide: WIDE },
      { "exports/wide.csv": text(WIDE_HEADER, "1,FA-1,05/01/2020,,,failed,4,Y,bad,14,18") },
    );
    await workspace.ingest();
    const connection = await workspace.connection();
    // As version 2 left it: a table without these columns, which come last when they are added.
    for (const column of ["race_depth_mm", "spigot_height_mm", "end_play_unshimmed_mm"])
      await connection.run(`alter table records.rebuild_row drop column ${column}`);
    await connection.run("update landing.version set schema_version = 2");
    await runStep(connection, "03_from_version_2");
    await runStep(connection, "04_current_card");
    await runStep(connection, "05_from_version_3");
    workspace.write("exports/wide-more.csv", text(WIDE_HEADER, "2,FA-2,05/01/2020,,,failed,4,Y,bad,12,17"));
    const { files } = await workspace.ingest();
    expect(files.map(({ path, unchanged }) => [path, unchanged])).toEqual([
      ["exports/wide-more.csv", false],
      ["exports/wide.csv", true],
    ]);
    // by hand: 17 thou = 0.4318 mm, 12 thou = 0.3048 mm; the file read before tells of shims alone
    expect(await workspace.lines(KEPT)).toEqual(["1|-|-|-|0.3556|-", "2|-|-|0.4318|0.3048|-"]);
  });
});
