import { readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { accounts } from "../../src/ingest/accounts.ts";
import { ingest } from "../../src/ingest/ingest.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "./scratch-workspace.ts";

const hostile = [
  CARD_HEADER,
  "1,FA-1,01/02/2023,03/02/2023,1234,failed,5,Y,bad", // 2: accepted
  "2,FA-2,05/02/2023,03/02/2023,1234,failed,5,Y,bad", // 3: built before removed
  "", // 4: empty line
  "3,FA-3,31/02/2023,05/03/2023,900,hours up,0.13 mm,Y,good", // 5: no such day; its own unit
  "1,FA-1,01/02/2023,03/02/2023,1234,failed,5,Y,bad", // 6: the same as 2
  "4,FA-4,01/03/2023,05/03/2023,-7,failed,5,Y,bad", // 7: a meter below 0
  "3,FA-3,01/03/2023,05/03/2023,900,hours up,5,Y,good", // 8: in place of 5
  ",,,,,,,,", // 9: blank row
  CARD_HEADER, // 10: repeated header
  "5,FA-5,01/03/2023,05/03/2023,100,failed,5,Y,bad,see, file", // 11: too many cells
  "6,FA-6,01/03/2023", // 12: short: accepted, the rest not recorded
  "7,,01/03/2023,05/03/2023,100,failed,5,Y,bad", // 13: no unit
  "8,FA-8,,,100,failed,5,Y,bad", // 14: no day at all
  "9,FA-9,01/03/2023,05/03/2023,12x,broke,50,J,bad", // 15: four values refused, accepted
  "10,FA-10,01/03/2023,05/03/2023,100,?,5,Y,bad,,,", // 16: blank cells too many: accepted
  "Total: 10 cards", // 17: a total
].join("\n");

describe("ingest()", () => {
  it("ends each row of a hostile file in exactly one place", async () => {
    const pipeline = `${CARDS}not_data: [{ column: Card, matches: "total.*" }]\n`;
    const workspace = new ScratchWorkspace({ cards: pipeline }, { "exports/cards.csv": hostile });
    const { files, overLimit } = await workspace.ingest();
    expect(files).toEqual([
      {
        path: "exports/cards.csv",
        pipeline: "cards",
        record: "rebuild",
        state: "there",
        unchanged: false,
        read: 16,
        notData: 4,
        quarantined: 5,
        duplicate: 1,
        superseded: 1,
        corrected: 0,
        accepted: 5,
        refusedValues: 4,
        warnings: 2,
        rules: {
          date_order: 1,
          failed_not_replaced: 1,
          missing: 2,
          negative_meter: 1,
          not_a_date: 1,
          not_a_number: 1,
          told_twice: 1,
          too_many_cells: 1,
          unit_mixup: 1,
          unknown_word: 2,
        },
      },
    ]);
    expect(overLimit).toEqual(files);
    expect(await workspace.lines("select row, outcome, because from landing.set_aside order by row")).toEqual([
      "3|quarantined|date_order",
      "4|not_data|empty line",
      "7|quarantined|negative_meter",
      "9|not_data|blank row",
      "10|not_data|repeated header",
      "11|quarantined|too_many_cells",
      "13|quarantined|missing",
      "14|quarantined|missing",
      "17|not_data|total or note: Card matches total.*",
    ]);
    expect(await workspace.lines("select row, card, unit from records.rebuild order by row")).toEqual([
      "2|1|FA-1",
      "8|3|FA-3",
      "12|6|FA-6",
      "15|9|FA-9",
      "16|10|FA-10",
    ]);
  });

  it("keeps the raw text of what it sets aside, by header", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": hostile });
    await workspace.ingest();
    const raw = await workspace.rows("select row, raw from landing.set_aside where row in (3, 11) order by row");
    expect(raw.map(({ raw: json }) => JSON.parse(String(json)))).toEqual([
      {
        Card: "2",
        Frame: "FA-2",
        Out: "05/02/2023",
        Built: "03/02/2023",
        Meter: "1234",
        Why: "failed",
        "End play": "5",
        "DE new": "Y",
        "DE found": "bad",
      },
      expect.objectContaining({ Card: "5", "beyond 1": "see", "beyond 2": " file" }),
    ]);
  });

  it("says of each refusal the field, the value, the rule and a remedy", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": hostile });
    await workspace.ingest();
    expect(
      await workspace.lines(
        "select row, field, value, rule, message from quarantine.finding where row in (3, 15) order by all",
      ),
    ).toEqual([
      "3|built_on|2023-02-03|date_order|built_on 2023-02-03 lies before removed_on 2023-02-05; correct the dates of the card",
      '15|drive_end_bearings.fitted|J|unknown_word|no known word; known are y, n; correct the cell, or add the word under "words" of drive_end_bearings.fitted in the pipeline',
      "15|drive_end_bearings.fitted|-|failed_not_replaced|drive_end_bearings of FA-9 was found failed on card 9, and the card does not say that it was replaced; the failure is counted, and no life from there on until one is fitted; complete the card, or correct how it was found",
      "15|end_play|50|unit_mixup|far from the rest of its column in thou, and near it were it in um; correct the cell, or write the unit behind the number",
      '15|hours_removed|12x|not_a_number|no number with "." as decimal mark, in h or with its unit; correct the cell',
      '15|reason|broke|unknown_word|no known word; known are failed, hours up; correct the cell, or add the word under "words" of reason in the pipeline',
    ]);
  });

  it("changes nothing when it is run again, and keeps a copy of the export", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": hostile });
    const first = await workspace.ingest();
    const content = () =>
      Promise.all(
        ["landing.file", "landing.set_aside", "landing.change", "quarantine.finding", "records.rebuild_row"].map(
          (table) => workspace.lines(`select * from ${table} order by all`),
        ),
      );
    const before = await content();
    const again = await workspace.ingest();
    expect(again.files).toEqual(first.files.map((file) => ({ ...file, unchanged: true })));
    expect(await content()).toEqual(before);
    expect(readdirSync(join(workspace.folder, "store/exports"))).toEqual([expect.stringMatching(/^[0-9a-f]{64}\.br$/)]);
  });

  it("gives the same records to a store of its own, whatever files came between", async () => {
    const later = `${CARD_HEADER}\n3,FA-3,02/03/2023,05/03/2023,900,hours up,5,Y,good\n`;
    const one = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards-1.csv": hostile, "exports/cards-2.csv": later },
    );
    const two = new ScratchWorkspace({ cards: CARDS }, { "exports/cards-1.csv": hostile });
    await one.ingest();
    await two.ingest();
    two.write("exports/cards-2.csv", later);
    await two.ingest();
    const sql = "select * from records.rebuild order by card";
    expect(await two.lines(sql)).toEqual(await one.lines(sql));
  });

  it("accepts a header without rows, and refuses a file without a header", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": `${CARD_HEADER}\n` });
    const { files } = await workspace.ingest();
    expect(files[0]).toMatchObject({ read: 0, accepted: 0, quarantined: 0 });
    workspace.write("exports/cards-empty.csv", "");
    await expect(workspace.ingest()).rejects.toThrow("Cannot read exports/cards-empty.csv: the file is empty");
    workspace.write("exports/cards-empty.csv", "\n\n");
    await expect(workspace.ingest()).rejects.toThrow("holds only empty lines");
  });

  it("names the pipeline, its line and the nearest header where a column is missing", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": "Crad,Frame\n1,2\n" });
    await expect(workspace.ingest()).rejects.toThrow(
      /pipelines\/cards\.yaml, line 6 at "fields\.card\.column": exports\/cards\.csv has no column "Card"; the nearest is "Crad", all 2 are Crad, Frame/,
    );
    expect(await workspace.lines("from landing.file")).toEqual([]);
  });

  it("names the pipeline and the pattern where no file matches", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS });
    await expect(workspace.ingest()).rejects.toThrow('Cannot ingest "cards": no file matches "exports/cards*.csv"');
  });

  it("refuses a pipeline that the workspace does not name", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": CARD_HEADER });
    await expect(workspace.ingest(["crads"])).rejects.toThrow("it names cards");
  });

  it("gives the accounts of all files from the store", async () => {
    const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards.csv": hostile });
    const { files } = await workspace.ingest();
    expect(await accounts(await workspace.connection())).toEqual(files.map((file) => ({ ...file, unchanged: true })));
  });

  it("tells how far it has come, in bytes, never backwards, from the first file to the end", async () => {
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards-1.csv": hostile, "exports/cards-2.csv": hostile },
    );
    const told: [number, number, string][] = [];
    await ingest(readWorkspace(workspace.folder), await workspace.connection(), {
      onProgress: (done, total, path) => told.push([done, total, path]),
    });
    const bytes = Buffer.byteLength(hostile);
    expect(told[0]).toEqual([0, 2 * bytes, "exports/cards-1.csv"]);
    expect(told).toContainEqual([bytes, 2 * bytes, "exports/cards-2.csv"]);
    expect(told.at(-1)).toEqual([2 * bytes, 2 * bytes, ""]);
    const far = told.map(([done]) => done);
    expect(far).toEqual(far.toSorted((one, other) => one - other));
  });

  it("takes a file over the quarantine limit only above it", async () => {
    const row = (card: number, unit: string) => `${card},${unit},01/02/2023,03/02/2023,1,failed,5,Y,bad`;
    const good = Array.from({ length: 19 }, (_, index) => row(index, `FA-${index}`));
    const workspace = new ScratchWorkspace(
      { cards: CARDS },
      { "exports/cards.csv": [CARD_HEADER, ...good, row(19, "")].join("\n") },
    );
    expect((await workspace.ingest()).overLimit).toEqual([]); // 1 of 20 is 5 %, the limit
    workspace.write("exports/cards.csv", [CARD_HEADER, ...good, row(19, ""), row(20, "")].join("\n"));
    expect((await workspace.ingest()).overLimit).toHaveLength(1); // 2 of 21
  });
});
