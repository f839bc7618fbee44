import { rmSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const card = (number: number, unit: string, endPlay = "") =>
  `${number},${unit},0${number}/02/2023,0${number}/03/2023,1234,failed,${endPlay},Y,bad`;
const cards = (...rows: string[]) => [CARD_HEADER, ...rows, ""].join("\n");

const MEASURED = `
title: Measurements
record: rebuild
layout: measured
files: exports/measured*.csv
fields:
  card: { column: Job }
  fleet: { value: saltmere }
  measure: { column: Characteristic }
measures:
  End play as built: { field: end_play, column: Value, unit: thou, low: 0.5, high: 20 }
  EP set: { field: end_play, column: Value, unit: mm }
  Ring temp: { field: ring_temperature, column: Value, unit: F }
  Runout: ~
`;

describe("measured values, one a row", () => {
  it("complete the cards told elsewhere, and neither replace them nor are replaced", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS, measured: MEASURED },
      {
        "exports/cards.csv": cards(card(1, "FA-1"), card(2, "FA-2", "6")),
        "exports/measured.csv": [
          "Job,Characteristic,Value",
          "1,end play  as built,5",
          "1,Ring temp,213",
          "1,Runout,0.4",
          "2,EP set,0.1",
          "9,Ring temp,212",
          "1,Weight,3",
          "",
        ].join("\n"),
      },
    );
    const { files } = await workspace.ingest();
    expect(files[1]).toMatchObject({
      read: 6,
      notData: 1,
      quarantined: 1,
      accepted: 4,
      rules: { unknown_measure: 1, measure_without_card: 1 },
    });
    // by hand: 5 thou = 0.127 mm, 213 F = 181 x 5/9 C; card 2's own 6 thou = 0.1524 mm comes before the list's
    expect(
      await workspace.lines(
        "select card, unit, round(end_play_mm, 9), round(ring_temperature_c, 6) from records.rebuild order by card",
      ),
    ).toEqual(["1|FA-1|0.127|100.555556", "2|FA-2|0.1524|-"]);
  });

  it("of no card make none, though they name its unit and day", async () => {
    const measured = `${MEASURED.replace(
      "fields:\n",
      'fields:\n  unit: { column: Frame }\n  removed_on: { column: Out, dates: ["%d/%m/%Y"] }\n',
    )}`;
    const workspace = new ScratchWorkspace(
      { cards: CARDS, measured },
      {
        "exports/cards.csv": cards(card(1, "FA-1")),
        "exports/measured.csv":
          "Job,Frame,Out,Characteristic,Value\n1,FA-1,05/01/2020,Ring temp,213\n8,FA-1,05/06/2020,Ring temp,210\n9,FA-1,05/07/2020,Ring temp,212\n9,FA-1,05/07/2020,end play as built,5\n",
      },
    );
    const { files } = await workspace.ingest();
    expect(files[1]).toMatchObject({ read: 4, accepted: 4, rules: { measure_without_card: 2 } });
    expect(await workspace.lines("select card from records.rebuild")).toEqual(["1"]);
  });

  it("measured again count as last measured", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS, measured: MEASURED },
      {
        "exports/cards.csv": cards(card(1, "FA-1")),
        "exports/measured.csv": "Job,Characteristic,Value\n1,End play as built,9\n1,End play as built,5\n",
      },
    );
    await workspace.ingest();
    expect(await workspace.lines("select round(end_play_mm, 9) from records.rebuild")).toEqual(["0.127"]);
  });
});

describe("a card number", () => {
  it("is composed of unit and day where the export has none", async () => {
    const composed = CARDS.replace("card: { column: Card }", "card: { compose: [unit, removed_on] }");
    const workspace = new ScratchWorkspace(
      { cards: composed },
      { "exports/cards.csv": cards(card(1, "FA-1"), card(1, "FA-1"), card(2, "FA-1"), ",FA-3,,01/01/2023,,,,,") },
    );
    const { files } = await workspace.ingest();
    expect(files[0]).toMatchObject({ duplicate: 1, accepted: 2, quarantined: 1, rules: { missing: 1 } });
    expect(await workspace.lines("select card from records.rebuild order by card")).toEqual([
      "FA-1 2023-02-01",
      "FA-1 2023-02-02",
    ]);
  });

  it("can't be composed of what isn't mapped", async () => {
    const composed = CARDS.replace("card: { column: Card }", "card: { compose: [unit, site] }");
    const workspace = new ScratchWorkspace({ cards: composed }, { "exports/cards.csv": cards(card(1, "FA-1")) });
    await expect(workspace.ingest()).rejects.toThrow('"site" is no field with a column of its own here');
  });
});

describe("columns", () => {
  it("are found by their place where there is no header", async () => {
    const placed = `
title: Readings
record: reading
files: rounds.csv
header: none
fields:
  fleet: { value: saltmere }
  unit: { column: 1 }
  read_on: { column: [Day, 3], dates: ["%Y-%m-%d"] }
  hours: { column: 2 }
`;
    const workspace = new ScratchWorkspace({ placed }, { "rounds.csv": "FA-1,120.5,2024-01-02\nFA-2,7,2024-01-03\n" });
    expect((await workspace.ingest()).files[0]).toMatchObject({ read: 2, accepted: 2 });
    expect(await workspace.lines("select row, unit, hours, read_on from records.reading order by row")).toEqual([
      "1|FA-1|120.5|2024-01-02",
      "2|FA-2|7.0|2024-01-03",
    ]);
  });

  it("that no record of a JSON export has are doubted, or refused where a record can't do without", async () => {
    const rounds = (unit: string) => `
title: Rounds
record: reading
files: rounds.ndjson
fields:
  fleet: { value: saltmere }
  unit: { column: ${unit} }
  read_on: { column: day, dates: ["%Y-%m-%d"] }
  hours: { column: hours }
  old_meter_hours: { column: "meter.old" }
`;
    const files = { "rounds.ndjson": '{"unit":"FA-1","day":"2024-01-02","hours":12.5}\n' };
    const workspace = new ScratchWorkspace({ rounds: rounds("unit") }, files);
    expect((await workspace.ingest()).files[0]).toMatchObject({ accepted: 1, rules: { absent_field: 1 } });
    await expect(new ScratchWorkspace({ rounds: rounds("serial") }, files).ingest()).rejects.toThrow(
      'rounds.ndjson has no column "serial"',
    );
  });

  it("of JSON that hold a value plain in some records and nested in others lose none of it silently", async () => {
    const workspace = new ScratchWorkspace(
      {
        cards: `
title: Cards
record: rebuild
files: exports/cards.json
fields:
  card: { column: no }
  fleet: { value: saltmere }
  unit: { column: frame.serial }
  removed_on: { column: out, dates: ["%Y-%m-%d"] }
  site: { column: site }
`,
      },
      {
        "exports/cards.json": JSON.stringify([
          { no: "1", frame: { serial: "F1" }, out: "2020-01-05", site: "North" },
          { no: "2", frame: "F2", out: "2020-01-05" },
          { no: "3", frame: { serial: "F3" }, out: "2020-01-05", site: { name: "North" } },
          { no: "4", frame: { serial: "F4" }, out: "2020-01-05", site: null },
          { no: "5", frame: { serial: "F5" }, out: "2020-01-05", site: ["North", "South"] },
        ]),
      },
    );
    await workspace.ingest();
    expect(await workspace.lines("select card from records.rebuild order by card")).toEqual(["1", "4"]);
    expect(
      await workspace.lines(
        "select row, rule, severity from quarantine.finding where rule <> 'missing' order by row, rule",
      ),
    ).toEqual(["2|mixed_nesting|quarantine", "3|mixed_nesting|quarantine", "5|mixed_nesting|quarantine"]);
    expect(
      await workspace.lines(
        "select distinct split_part(message, ' stands', 1) from quarantine.finding where rule = 'mixed_nesting'",
      ),
    ).toEqual(['"frame", "site.name", "site[0]", "site[1]"']);
  });

  it("beyond the last are named with how many there are", async () => {
    const placed = CARDS.replace("{ column: Frame }", "{ column: 12 }");
    const workspace = new ScratchWorkspace({ cards: placed }, { "exports/cards.csv": cards(card(1, "FA-1")) });
    await expect(workspace.ingest()).rejects.toThrow("has no column number 12; all 9 are Card, Frame");
  });
});

describe("stock, parts and bearings", () => {
  const STOCK = `
title: Stock
record: stock
files: stock.csv
fields:
  part: { column: Part, tidy: [upper] }
  place: { column: Bin }
  counted_on: { column: Counted, dates: ["%Y-%m-%d"] }
  on_hand: { column: Pieces }
  on_order: { column: Ordered }
  due_on: { column: Due, dates: ["%Y-%m-%d"] }
`;

  it("are records of their own, with units and days that may lie ahead", async () => {
    const workspace = new ScratchWorkspace(
      {
        stock: STOCK,
        parts:
          "title: Parts\nrecord: part\nfiles: parts.csv\nfields:\n  part: { column: Part }\n  title: { column: Name }\n  slot: { column: Goes to }\n  price: { column: Price }\n  lead_time: { column: Lead time, unit: wk }\n",
        bearings:
          "title: Bearings\nrecord: bearing\nfiles: bearings.csv\nfields:\n  part: { column: Part }\n  kind: { column: Kind }\n  dynamic_rating: { column: C, unit: lbf }\n  contact_angle: { column: Angle }\n",
      },
      {
        "stock.csv":
          "Part,Bin,Counted,Pieces,Ordered,Due\nqb-1,A,2024-12-01,4,2,2025-03-01\nqb-1,A,2024-12-01,5,2,2025-03-01\nQB-1,B,2024-12-01,-1,,\nQB-2,A,2024-12-01,,,\n",
        "parts.csv": "Part,Name,Goes to,Price,Lead time\nQB-1,Bearing pair,drive_end_bearings,410.50,6\n",
        "bearings.csv": "Part,Kind,C,Angle\nQB-1,ball,10000,40\n",
      },
    );
    const { files } = await workspace.ingest();
    expect(files[0]).toMatchObject({ read: 4, superseded: 1, quarantined: 1, corrected: 1, accepted: 1 });
    expect(
      await workspace.lines("select part, place, on_hand, on_order, due_on from records.stock order by place"),
    ).toEqual(["QB-1|A|5.0|2.0|2025-03-01", "QB-1|B|-1.0|-|-"]);
    expect(await workspace.lines("select rule from quarantine.finding where severity = 'warn'")).toContain(
      "negative_stock",
    );
    // 6 weeks = 42 days
    expect(await workspace.lines("select title, slot, price, lead_time_days from records.part")).toEqual([
      "Bearing pair|drive_end_bearings|410.5|42.0",
    ]);
    // 1 lbf = 4.448 221 615 260 5 N: NIST SP 811 (2008), appendix B.8
    expect(await workspace.lines("select dynamic_rating_kn, contact_angle_deg from records.bearing")).toEqual([
      "44.482216152605|40.0",
    ]);
  });
});

describe("an export that is gone", () => {
  it("is said so, its rows are kept until they are forgotten, and then another version stands again", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      {
        "exports/cards-1.csv": cards(card(1, "FA-1", "3")),
        "exports/cards-2.csv": cards(card(1, "FA-1", "4"), card(2, "FA-2", "5")),
      },
    );
    await workspace.ingest();
    rmSync(join(workspace.folder, "exports/cards-2.csv"));
    const { files, gone, forgotten } = await workspace.ingest();
    expect(files.map(({ path }) => path)).toEqual(["exports/cards-1.csv"]);
    expect(gone).toMatchObject([{ path: "exports/cards-2.csv", accepted: 2, state: "gone" }]);
    expect(forgotten).toEqual([]);
    const held = "select card, round(end_play_mm / 0.0254, 6) from records.rebuild order by card";
    expect(await workspace.lines(held)).toEqual(["1|4.0", "2|5.0"]);
    expect((await workspace.ingest(undefined, { forget: true })).forgotten).toEqual([
      { path: "exports/cards-2.csv", olderState: false },
    ]);
    expect(await workspace.lines(held)).toEqual(["1|3.0"]);
    expect(await workspace.lines("select path, accepted, superseded from landing.account")).toEqual([
      "exports/cards-1.csv|1|0",
    ]);
  });

  it("is there again when it comes back, without being read again", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards(card(1, "FA-1")) });
    await workspace.ingest();
    rmSync(join(workspace.folder, "exports/cards.csv"));
    expect((await workspace.ingest()).gone).toHaveLength(1);
    workspace.write("exports/cards.csv", cards(card(1, "FA-1")));
    expect(await workspace.ingest()).toMatchObject({ files: [{ unchanged: true, state: "there" }], gone: [] });
  });

  it("is read by a changed pipeline from its kept copy", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards-1.csv": cards(card(1, "FA-1")), "exports/cards-2.csv": cards(card(2, "FA-2")) },
    );
    await workspace.ingest();
    rmSync(join(workspace.folder, "exports/cards-2.csv"));
    workspace.setPipeline("cards", CARDS.replace("failed: failure", "failed: opportunity"));
    await workspace.ingest();
    expect(await workspace.lines("select card, reason from records.rebuild order by card")).toEqual([
      "1|opportunity",
      "2|opportunity",
    ]);
    expect(await workspace.lines("select path, state from landing.file order by path")).toEqual([
      "exports/cards-1.csv|there",
      "exports/cards-2.csv|gone",
    ]);
  });

  it("is read by a changed pipeline from its kept copy when newer bytes have come in its place at once", async () => {
    const both = cards(card(1, "FA-1"), card(2, "FA-2"));
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": both });
    await workspace.ingest();
    workspace.write("exports/cards.csv", cards(card(1, "FA-1")));
    workspace.setPipeline("cards", CARDS.replace("failed: failure", "failed: opportunity"));
    const { files } = await workspace.ingest();
    expect(files.map(({ state, unchanged }) => [state, unchanged])).toEqual([
      ["there", false],
      ["replaced", false],
    ]);
    const held = "select card, reason from records.rebuild order by card";
    expect(await workspace.lines(held)).toEqual(["1|opportunity", "2|opportunity"]);
    const { files: again } = await workspace.ingest();
    expect(again.map(({ unchanged }) => unchanged)).toEqual([true]);
    expect(await workspace.lines(held)).toEqual(["1|opportunity", "2|opportunity"]);
  });

  it("says what can be done where a changed pipeline can't read its kept copy", async () => {
    const old = cards(card(1, "FA-1"));
    const renamed = CARDS.replace("column: Frame", "column: Serial");
    const newer = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": old });
    await newer.ingest();
    newer.write("exports/cards.csv", cards(card(1, "FA-1"), card(2, "FA-2")).replace("Frame", "Serial"));
    newer.setPipeline("cards", renamed);
    await expect(newer.ingest()).rejects.toThrow(
      /exports\/cards\.csv has no column "Serial".*; so it stood in an older state, .* let that read both, as column: \[NEW NAME, OLD NAME\] does$/,
    );
    newer.setPipeline("cards", CARDS.replace("column: Frame", "column: [Serial, Frame]"));
    expect((await newer.ingest()).files).toHaveLength(2);

    const gone = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": old });
    await gone.ingest();
    rmSync(join(gone.folder, "exports/cards.csv"));
    gone.write("exports/cards-2.csv", cards(card(2, "FA-2")).replace("Frame", "Serial"));
    gone.setPipeline("cards", renamed);
    await expect(gone.ingest()).rejects.toThrow('or forget it with "framelife ingest --forget"');
    expect((await gone.ingest(undefined, { forget: true })).forgotten).toEqual([
      { path: "exports/cards.csv", olderState: false },
    ]);
    expect(await gone.lines("select card from records.rebuild")).toEqual(["2"]);
  });

  it("of which a record is gone keeps it, says so, and forgets it when told to", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards.csv": cards(card(1, "FA-1"), card(2, "FA-2")) },
    );
    await workspace.ingest();
    workspace.write("exports/cards.csv", cards(card(1, "FA-1")));
    await workspace.ingest();
    expect(await workspace.lines("select card from records.rebuild order by card")).toEqual(["1", "2"]);
    expect(
      await workspace.lines("select row, rule from quarantine.finding where across and rule = 'vanished_row'"),
    ).toEqual(["3|vanished_row"]);
    const { vanished } = await workspace.ingest();
    expect(vanished).toEqual([{ path: "exports/cards.csv", records: 1 }]);
    const { forgotten } = await workspace.ingest(undefined, { forget: true });
    expect(forgotten).toEqual([{ path: "exports/cards.csv", olderState: true }]);
    expect(await workspace.lines("select card from records.rebuild order by card")).toEqual(["1"]);
  });

  it("forgets a record that several older states had", async () => {
    const both = [card(1, "FA-1"), card(2, "FA-2")];
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": cards(...both) });
    await workspace.ingest();
    for (const rows of [[...both, card(3, "FA-3")], [card(1, "FA-1")]]) {
      workspace.write("exports/cards.csv", cards(...rows));
      await workspace.ingest();
    }
    expect(await workspace.lines("select card from records.rebuild order by card")).toEqual(["1", "2", "3"]);
    expect((await workspace.ingest(undefined, { forget: true })).forgotten).toHaveLength(2);
    expect(await workspace.lines("select card from records.rebuild order by card")).toEqual(["1"]);
    expect(await workspace.lines("select path, state, accepted from landing.account")).toEqual([
      "exports/cards.csv|there|1",
    ]);
  });

  it("forgets a record at once that another file had too, which is gone", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards-1.csv": cards(card(2, "FA-2")), "exports/cards-2.csv": cards(card(1, "FA-1"), card(2, "FA-2")) },
    );
    await workspace.ingest();
    workspace.write("exports/cards-2.csv", cards(card(1, "FA-1")));
    rmSync(join(workspace.folder, "exports/cards-1.csv"));
    await workspace.ingest(undefined, { forget: true });
    expect(await workspace.lines("select card from records.rebuild order by card")).toEqual(["1"]);
  });
});

describe("the order of files", () => {
  it("decides which version stands, not the order of reading", async () => {
    const older = cards(card(1, "FA-1", "3"));
    const newer = cards(card(1, "FA-1", "4"));
    const late = new ScratchWorkspace({ cards: CARDS }, { "exports/cards-2024.csv": newer });
    await late.ingest();
    late.write("exports/cards-2023.csv", older);
    await late.ingest();
    expect(await late.lines("select round(end_play_mm / 0.0254, 6) from records.rebuild")).toEqual(["4.0"]);
    expect(await late.lines("select path, superseded, accepted from landing.account order by path")).toEqual([
      "exports/cards-2023.csv|1|0",
      "exports/cards-2024.csv|0|1",
    ]);
  });

  it("is weighed anew where the pipelines turn it round", async () => {
    const list = (files: string) => CARDS.replace("exports/cards*.csv", files);
    const workspace = new ScratchWorkspace(
      { cards: list("[exports/a.csv, exports/b.csv]") },
      { "exports/a.csv": cards(card(1, "FA-1", "3")), "exports/b.csv": cards(card(1, "FA-1", "4")) },
    );
    await workspace.ingest();
    workspace.setPipeline("cards", list("[exports/b.csv, exports/a.csv]"));
    await workspace.ingest();
    expect(await workspace.lines("select round(end_play_mm / 0.0254, 6) from records.rebuild")).toEqual(["3.0"]);
  });
});
