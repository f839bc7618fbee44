import { describe, expect, it } from "vitest";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "../scratch-workspace.ts";

const HEADER = "record,fleet,id,field,old,new,reason,by\n";
const ROWS = [
  "1,F1,05/01/2020,20/01/2020,100,failed,5,Y,bad",
  "2,F2,31/02/2020,20/03/2020,200,failed,50,Y,bad", // no such day: out is left out; 50 thou is refused
  "3,,05/01/2020,20/01/2020,300,failed,5,Y,bad", // no unit: quarantined
];

function workspaceOf(corrections: string, rows = ROWS): ScratchWorkspace {
  const files = { "exports/cards.csv": `${[CARD_HEADER, ...rows].join("\n")}\n` };
  return new ScratchWorkspace({ cards: CARDS }, { ...files, "corrections.csv": `${HEADER}${corrections}\n` });
}

const changes = (workspace: ScratchWorkspace) =>
  workspace.lines(
    "select row, field, before, after, because from landing.change where rule = 'correction' order by all",
  );

describe("corrections", () => {
  it("are read in the place of the cell, checked like any cell, and say why and by whom", async () => {
    const workspace = workspaceOf("rebuild,saltmere,2,end_play,50,5.0,a slip of the pen,store");
    const { corrections, files } = await workspace.ingest();
    expect(corrections).toEqual({ applied: 1, stale: [], unmatched: [], several: [] });
    // 5.0 thou x 0.0254 mm
    expect(await workspace.lines("select round(end_play_mm, 6) from records.rebuild where card = '2'")).toEqual([
      "0.127",
    ]);
    expect(await changes(workspace)).toEqual([
      "3|end_play|50|5.0|line 2 of corrections.csv: a slip of the pen (store)",
    ]);
    expect(files[0]).toMatchObject({ corrected: 1, accepted: 1, quarantined: 1 });
    expect(files[0]?.rules["out_of_range"]).toBeUndefined();
  });

  it("of a unit's number are told as applied beside an accepted alias of another", async () => {
    const workspace = workspaceOf("rebuild,,1,unit,F1,F7,seen on the frame,fitter 7");
    workspace.write("aliases.csv", "fleet,unit,is,accept,because\nsaltmere,F3O,F30,yes,\n");
    expect((await workspace.ingest()).corrections).toEqual({ applied: 1, stale: [], unmatched: [], several: [] });
    expect(await workspace.lines("select unit from records.rebuild where card = '1'")).toEqual(["F7"]);
  });

  it("rescue a row from quarantine", async () => {
    const workspace = workspaceOf("rebuild,,3,unit,,F3,seen on the frame,fitter 7");
    const { files } = await workspace.ingest();
    expect(files[0]).toMatchObject({ corrected: 1, quarantined: 0 });
    expect(await workspace.lines("select unit from records.rebuild where card = '3'")).toEqual(["F3"]);
    expect(await changes(workspace)).toEqual(["4|unit|-|F3|line 2 of corrections.csv: seen on the frame (fitter 7)"]);
  });

  it("take a value out, and set one of a slot", async () => {
    const workspace = workspaceOf(
      "rebuild,,1,hours_removed,100,,of another frame,store\nrebuild,,1,drive_end_bearings.condition,bad,good,looked again,store",
    );
    await workspace.ingest();
    expect(await workspace.lines("select hours_removed from records.rebuild where card = '1'")).toEqual(["-"]);
    expect(await workspace.lines("select condition from records.fitting where card = '1'")).toEqual(["serviceable"]);
  });

  it("are checked: a word that the pipeline does not know is refused all the same, and the trace has both", async () => {
    const workspace = workspaceOf("rebuild,,1,reason,failed,broke,typed,store");
    const { files } = await workspace.ingest();
    expect(files[0]?.rules).toMatchObject({ unknown_word: 1 });
    expect(await changes(workspace)).toEqual(["2|reason|failed|broke|line 2 of corrections.csv: typed (store)"]);
  });

  it("are refused where another value stands there, with what does", async () => {
    const workspace = workspaceOf("rebuild,saltmere,1,end_play,7,6,measured again,store");
    const { corrections } = await workspace.ingest();
    expect(corrections).toEqual({
      applied: 0,
      stale: [
        {
          line: 2,
          text: 'line 2 of corrections.csv: end_play of rebuild "1" of saltmere is not "7" any more; look at it with "framelife audit"',
        },
      ],
      unmatched: [],
      several: [],
    });
    expect(
      await workspace.lines(
        "select row, field, value, severity, message from quarantine.finding where rule = 'stale_correction'",
      ),
    ).toEqual([
      '2|end_play|5|warn|line 2 of corrections.csv takes "6" for "7", which does not stand here; look at the record again, and write what does under old, or take the line out',
    ]);
    expect(await changes(workspace)).toEqual([]);
  });

  it("say nothing where the export has the new value by now", async () => {
    const workspace = workspaceOf("rebuild,,1,end_play,7,5,measured again,store");
    expect((await workspace.ingest()).corrections).toEqual({ applied: 1, stale: [], unmatched: [], several: [] });
    expect(await workspace.lines("select * from quarantine.finding where rule = 'stale_correction'")).toEqual([]);
  });

  it("of no record are told, again when nothing has changed", async () => {
    const workspace = workspaceOf("rebuild,saltmere,99,end_play,5,6,x,y\nstock,,B1,on_hand,1,2,x,y");
    const texts = [
      'line 2 of corrections.csv: no export has a cell for end_play of rebuild "99" of saltmere; correct the line, or take it out',
      'line 3 of corrections.csv: no export has a cell for on_hand of stock "B1"; correct the line, or take it out',
    ];
    for (const _ of ["first", "again"]) {
      const { corrections } = await workspace.ingest();
      expect(corrections.unmatched.map(({ text }) => text)).toEqual(texts);
    }
  });

  it("that change several records are told, with how to name one", async () => {
    const stock = (lines: string) =>
      new ScratchWorkspace(
        {
          stock: `title: Shelf\nrecord: stock\nfiles: exports/stock.csv\nfields:\n  part: { column: Part }\n  place: { column: Store }\n  counted_on: { column: Counted, dates: ["%d.%m.%Y"] }\n  on_hand: { column: Have }\n`,
        },
        {
          "exports/stock.csv":
            "Part,Store,Counted,Have\nB 1,Main,01.12.2024,4\nB 1,Van,01.12.2024,4\nB 1,Van,01.11.2024,4\nB 2,Van,01.11.2024,4\n",
          "corrections.csv": `${HEADER}${lines}\n`,
        },
      );
    const held = "select place, counted_on, on_hand from records.stock where part = 'B 1' order by all";
    const all = stock("stock,,B 1,on_hand,4,5,counted again,store");
    expect((await all.ingest()).corrections.several.map(({ text }) => text)).toEqual([
      'line 2 of corrections.csv: on_hand of stock "B 1" was changed in 3 records, which "framelife audit" lists; write the place, and the day if need be, of the one that is meant: "B 1 | PLACE | YYYY-MM-DD", or leave it where all are meant',
    ]);
    expect(await all.lines(held)).toEqual(["Main|2024-12-01|5.0", "Van|2024-11-01|5.0", "Van|2024-12-01|5.0"]);
    const each = stock(
      "stock,,B 1 | Main,on_hand,4,5,counted again,store\nstock,,B 1 |Van| 2024-12-01,on_hand,4,6,counted again,store\nstock,,B 1|Van|01.11.2024,on_hand,4,7,counted again,store",
    );
    expect((await each.ingest()).corrections).toEqual({ applied: 3, stale: [], unmatched: [], several: [] });
    expect(await each.lines(held)).toEqual(["Main|2024-12-01|5.0", "Van|2024-11-01|7.0", "Van|2024-12-01|6.0"]);
    await expect(stock("stock,,B 1 |,on_hand,4,5,x,y").ingest()).rejects.toThrow(
      'a count of stock is told by its part, place and day, found "B 1 |"; write "PART"',
    );
  });

  it("of cards of one number in two fleets are told, unless they name the fleet", async () => {
    const both = (fleet: string) =>
      new ScratchWorkspace(
        {
          cards: CARDS.replace("files: exports/cards*.csv", "files: exports/cards.csv"),
          other: CARDS.replaceAll("saltmere", "ostrel").replace(/files: .*/, "files: exports/other.csv"),
        },
        {
          "exports/cards.csv": `${CARD_HEADER}\n${ROWS[0]}\n`,
          "exports/other.csv": `${CARD_HEADER}\n${ROWS[0]}\n`,
          "corrections.csv": `${HEADER}rebuild,${fleet},1,end_play,5,6,remeasured,store\n`,
        },
      );
    const [{ corrections: any }, { corrections: one }] = [await both("").ingest(), await both("ostrel").ingest()];
    expect(any).toMatchObject({ applied: 1, several: [{ line: 2 }] });
    expect(any.several[0]?.text).toContain('changed in 2 records, which "framelife audit" lists; write the fleet of');
    expect(one).toEqual({ applied: 1, stale: [], unmatched: [], several: [] });
  });

  it("keep their fleet", async () => {
    const { corrections } = await workspaceOf("rebuild,ostrel,1,end_play,5,6,x,y").ingest();
    expect(corrections).toMatchObject({ applied: 0, unmatched: [{ line: 2 }] });
  });

  it("read exports anew when they change, and only those of their record", async () => {
    const workspace = workspaceOf("rebuild,,1,end_play,5,6,x,y");
    workspace.setPipeline(
      "units",
      "title: U\nrecord: unit\nfiles: exports/units.csv\nfields: { fleet: { value: saltmere }, unit: { column: Frame } }\n",
    );
    workspace.write("exports/units.csv", "Frame\nF1\n");
    await workspace.ingest();
    workspace.write("corrections.csv", `${HEADER}rebuild,,1,end_play,5,7,x,y\n`);
    const { files } = await workspace.ingest();
    expect(files.map(({ pipeline, unchanged }) => `${pipeline} ${unchanged}`)).toEqual(["cards false", "units true"]);
    // 7 thou x 0.0254 mm
    expect(await workspace.lines("select round(end_play_mm, 6) from records.rebuild where card = '1'")).toEqual([
      "0.1778",
    ]);
    workspace.write("corrections.csv", HEADER);
    await workspace.ingest();
    expect(await changes(workspace)).toEqual([]);
    expect(await workspace.lines("select round(end_play_mm, 6) from records.rebuild where card = '1'")).toEqual([
      "0.127",
    ]);
  });

  it("leave a re-export of the same card the same", async () => {
    const workspace = workspaceOf("rebuild,,1,end_play,5,6,x,y");
    workspace.write("exports/cards2.csv", `${CARD_HEADER}\n${ROWS[0]}\n`);
    const { files } = await workspace.ingest();
    expect(files[1]).toMatchObject({ read: 1, duplicate: 1 });
  });

  it("find rows of long cards by their slot, and cards whose number is made of other fields", async () => {
    const workspace = new ScratchWorkspace(
      {
        long: `
title: Long cards
record: rebuild
layout: long
files: exports/long.csv
fields:
  card: { compose: [unit, removed_on] }
  fleet: { value: saltmere }
  unit: { column: Frame }
  removed_on: { column: Out, dates: ["%d/%m/%Y"] }
  end_play: { column: EP, unit: mm }
  slot: { column: Slot, words: { DE: drive_end_bearings, PE: pump_end_bearing } }
  condition: { column: Found, words: { bad: failed, good: serviceable } }
`,
      },
      {
        "exports/long.csv":
          "Frame,Out,EP,Slot,Found\nF1,05/01/2020,0.1,DE,bad\nF1,05/01/2020,,PE,bad\nF2,05/01/2020,0.1,DE,bad\n",
        "corrections.yaml": `
- { record: rebuild, id: F1 2020-01-05, field: pump_end_bearing.condition, old: bad, new: good, reason: looked again, by: store }
- record: rebuild
  id: F1 2020-01-05
  field: end_play
  old: 0.10
  new: 0.12
  reason: r
  by: b
- record: rebuild
  id: F2 2020-01-05
  field: end_play
  old: 0.1
  new: 0.12
  reason: r
  by: b
`,
      },
    );
    const { corrections } = await workspace.ingest();
    // "0.10" is not what stands there; the blank of the second row is no other value.
    expect(corrections).toMatchObject({ applied: 2, stale: [{ line: 3 }], unmatched: [], several: [] });
    expect(await workspace.lines("select card, slot, condition from records.fitting order by all")).toEqual([
      "F1 2020-01-05|drive_end_bearings|failed",
      "F1 2020-01-05|pump_end_bearing|serviceable",
      "F2 2020-01-05|drive_end_bearings|failed",
    ]);
    expect(await workspace.lines("select row, before, after, because from landing.change order by all")).toEqual([
      "3|bad|good|line 2 of corrections.yaml: looked again (store)",
      "4|0.1|0.12|line 10 of corrections.yaml: r (b)",
    ]);
  });

  it("find a reading by its unit and day, by the number that an alias gives it too", async () => {
    const workspace = new ScratchWorkspace(
      {
        rounds: `
title: Rounds
record: reading
files: exports/rounds.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
  read_on: { column: Day, dates: ["%d/%m/%Y"] }
  hours: { column: Hours }
`,
      },
      {
        "exports/rounds.csv": "Frame,Day,Hours\nFO1,05/01/2020,100\nF2,05/01/2020,1OO\nF2,06/01/2020,100\n",
        "aliases.csv": "fleet,unit,is,accept,because\nsaltmere,FO1,F01,yes,\n",
        "corrections.csv": `${HEADER}reading,,F01 2020-01-05,hours,100,110,r,b\nreading,,F2 05/01/2020,hours,1OO,100,r,b\n`,
      },
    );
    expect((await workspace.ingest()).corrections).toEqual({ applied: 2, stale: [], unmatched: [], several: [] });
    expect(await workspace.lines("select unit, read_on, hours from records.reading order by all")).toEqual([
      "F01|2020-01-05|110.0",
      "F2|2020-01-05|100.0",
      "F2|2020-01-06|100.0",
    ]);
  });

  it("take what looks like SQL as text", async () => {
    const rows = ["1,F1,05/01/2020,20/01/2020,100,failed,5,Y,bad"];
    const workspace = workspaceOf(
      `rebuild,,1,unit,F1,"x'); drop table records.rebuild_row; --",O'Hara's note,"a ""b"""`,
      rows,
    );
    await workspace.ingest();
    expect(await workspace.lines("select unit from records.rebuild")).toEqual([
      "x'); drop table records.rebuild_row; --",
    ]);
    expect((await changes(workspace))[0]).toContain(`O'Hara's note (a "b")`);
  });

  it.each([
    ["rebuild,,1,end_pley,5,6,r,b", 'line 2: a rebuild has no field "end_pley"; the nearest is "end_play"'],
    ["rebild,,1,end_play,5,6,r,b", 'line 2: "rebild" is no record; records are rebuild, unit, reading'],
    ["rebuild,nowhere,1,end_play,5,6,r,b", 'line 2: the workspace has no fleet "nowhere"'],
    ["rebuild,,1,end_play,5,6,,b", "line 2: reason is blank; fill it in"],
    ["rebuild,,1,end_play,5,6,r,", "line 2: by is blank; fill it in"],
    ["rebuild,,,end_play,5,6,r,b", "line 2: id is blank; fill it in"],
    ["rebuild,,1,end_play,5,5,r,b", 'line 2: old and new are both "5"'],
    ["reading,,F1,hours,5,6,r,b", 'line 2: a reading is told by its unit and its day, found "F1"'],
    [
      "rebuild,,1,end_play,5,6,r,b\nrebuild,saltmere,1,end_play,7,8,r,b",
      "line 3: end_play of 1 is corrected in line 2 too",
    ],
    ["rebuild,,1,end_play,5,6,r,b,more", "line 2: more cells than the header has"],
  ])("refuse a line that can't be meant: %s", async (line, message) => {
    await expect(workspaceOf(line).ingest()).rejects.toThrow(message);
  });

  it("refuse two files, and YAML of another form", async () => {
    const workspace = workspaceOf("rebuild,,1,end_play,5,6,r,b");
    workspace.write("corrections.yaml", "");
    await expect(workspace.ingest()).rejects.toThrow("has corrections.csv and corrections.yaml; keep one of them");
    const other = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards.csv": `${CARD_HEADER}\n`, "corrections.yaml": "- record: rebuild\n  was: 5\n" },
    );
    await expect(other.ingest()).rejects.toThrow('Cannot use corrections.yaml, line 1: there is no key "was"');
    other.write("corrections.yaml", '- record: rebuild\n  id: "1\\0"\n');
    await expect(other.ingest()).rejects.toThrow("Cannot use corrections.yaml, line 2: a text there holds a NUL");
  });
});
