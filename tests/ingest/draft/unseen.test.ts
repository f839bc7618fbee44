import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { bookBytes, rowXml } from "../export/workbook-bytes.ts";
import {
  columnsOf,
  dayAfter,
  draftOf,
  draftsOf,
  entryOf,
  pipelineOf,
  questionTexts,
  turn,
  wordsOf,
  written,
} from "./drafts-at-hand.ts";

const COUNT = 40;
const lines = (header: string[], row: (index: number) => string) =>
  [...header, ...Array.from({ length: COUNT }, (_, index) => row(index)), ""].join("\n");
const days = (index: number) => [0, 2, 9, 30].map((later) => dayAfter(index * 23 + later));

const abbreviated = lines(
  [
    "Rebuild log 2020-2022,,,,,,,,,,,,",
    "",
    "JobNo,S/N,Tag,Dt Rem,Dt Rcvd,Dt Compl,Dt Inst,Hrs @ Rem,Rsn,EP (mils),Lub,DE Brg Cond,DE Brg Repl",
  ],
  (index) =>
    [
      `J${100 + index}`,
      `FR-${1 + (index % 7)}`,
      `P-${index % 5}`,
      ...days(index).map(written.named),
      4000 + 37 * index,
      turn(["noisy", "PM due", "outage", "unk"], index),
      turn([2, 3, 4.5, 6], index),
      turn(["oil", "grs"], index),
      turn(["shot", "ok", "worn", "NI"], index),
      turn(["Y", "N"], index),
    ].join(","),
);

const german = lines(
  [
    "Auftragsnr.;Seriennummer;Pumpennummer;Ausbaudatum;Wareneingang;Fertigstellung;Einbaudatum;Betriebsstunden;Ausbaugrund;Axialluft (µm);Schmierart;Lager Antriebsseite Zustand;Lager Antriebsseite getauscht",
  ],
  (index) =>
    [
      `A-${500 + index}`,
      `RT${1 + (index % 7)}`,
      `PU${index % 5}`,
      ...days(index).map(written.points),
      `${4000 + 37 * index},5`,
      turn(["Lagerschaden", "Wartung", "Stillstand", "k.A.", "wie üblich"], index),
      turn([50, 75, 120], index),
      turn(["Öl", "Fett"], index),
      turn(["i.O.", "n.i.O.", "verschlissen"], index),
      turn(["ja", "nein"], index),
    ].join(";"),
);

const headerless = lines([], (index) =>
  [
    7000 + index,
    `SX${1 + (index % 7)}`,
    ...days(index).map(written.iso),
    `${4000 + 37 * index}.5`,
    turn(["failed", "planned", "shutdown"], index),
    turn(["oil", "grease"], index),
  ].join(","),
).trimStart();

describe("a draft of an export never seen before", () => {
  it("understands abbreviated English headers under a title row", async () => {
    const draft = await draftOf("log.csv", abbreviated);
    expect(columnsOf(draft)).toEqual({
      card: "JobNo",
      unit: "S/N",
      position: "Tag",
      removed_on: "Dt Rem",
      received_on: "Dt Rcvd",
      built_on: "Dt Compl",
      installed_on: "Dt Inst",
      hours_removed: "Hrs @ Rem",
      reason: "Rsn",
      lube: "Lub",
      end_play: "EP (mils)",
      "drive_end_bearings.condition": "DE Brg Cond",
      "drive_end_bearings.fitted": "DE Brg Repl",
    });
    expect(draft.reading.header).toEqual([3]);
    expect(entryOf(draft, "removed_on", "dates")).toEqual(["%d-%b-%y"]);
    expect(entryOf(draft, "end_play", "unit")).toBe("thou");
    expect(wordsOf(draft, "reason")).toEqual({
      noisy: "failure",
      "PM due": "planned",
      outage: "opportunity",
      unk: "unknown",
    });
    expect(wordsOf(draft, "drive_end_bearings.condition")).toEqual({
      shot: "failed",
      ok: "serviceable",
      worn: "worn",
      NI: "not_inspected",
    });
    expect(draft.unmatched).toEqual([]);
  });

  it("understands German headers in Windows-1252", async () => {
    const draft = await draftOf("auftraege.csv", Buffer.from(german, "latin1"));
    expect(columnsOf(draft)).toEqual({
      card: "Auftragsnr.",
      unit: "Seriennummer",
      position: "Pumpennummer",
      removed_on: "Ausbaudatum",
      received_on: "Wareneingang",
      built_on: "Fertigstellung",
      installed_on: "Einbaudatum",
      hours_removed: "Betriebsstunden",
      reason: "Ausbaugrund",
      lube: "Schmierart",
      end_play: "Axialluft (µm)",
      "drive_end_bearings.condition": "Lager Antriebsseite Zustand",
      "drive_end_bearings.fitted": "Lager Antriebsseite getauscht",
    });
    expect(pipelineOf(draft)).toMatchObject({ encoding: "windows-1252", delimiter: ";", decimal_mark: "," });
    expect(entryOf(draft, "end_play", "unit")).toBe("um");
    expect(wordsOf(draft, "reason")).toEqual({
      Lagerschaden: "failure",
      Wartung: "planned",
      Stillstand: "opportunity",
      "k.A.": "unknown",
      "wie üblich": undefined,
    });
    expect(wordsOf(draft, "drive_end_bearings.condition")).toEqual({
      "i.O.": "serviceable",
      "n.i.O.": "failed",
      verschlissen: "worn",
    });
    // 8 of the 40 rows say "wie üblich": it is asked, and not left out without a word
    expect(questionTexts(draft)).toEqual([
      '"wie üblich" in column "Ausbaugrund" (8 cells) could not be told; until it is listed, those cells are refused and counted',
    ]);
  });

  it("takes columns without a header by their cells and order, and asks about each", async () => {
    const draft = await draftOf("rows.csv", headerless);
    expect(pipelineOf(draft).header).toBe("none");
    expect(columnsOf(draft)).toEqual({
      card: 1,
      unit: 2,
      removed_on: 3,
      received_on: 4,
      built_on: 5,
      installed_on: 6,
      hours_removed: 7,
      reason: 8,
      lube: 9,
      "frame.condition": 8,
    });
    const asked = questionTexts(draft).filter((text) => text.endsWith("the file has no header"));
    expect(asked).toHaveLength(9);
  });

  it("makes a card of unit and day where there is no number, and a component of the frame where there are no slots", async () => {
    const text = lines(["Unit,Failed on,Back on,Cause"], (index) =>
      [
        `U${index % 6}`,
        written.slashes(days(index)[0]!),
        written.slashes(days(index)[3]!),
        turn(["bearing failure", "PM"], index),
      ].join(","),
    );
    const draft = await draftOf("failures.csv", text);
    expect(pipelineOf(draft)).toMatchObject({
      record: "rebuild",
      fields: {
        card: { compose: ["unit", "removed_on"] },
        removed_on: { column: "Failed on", dates: ["%m/%d/%Y"] },
        installed_on: { column: "Back on" },
      },
      slots: {
        frame: { fitted: { value: "yes" }, condition: { words: { "bearing failure": "failed", PM: "serviceable" } } },
      },
    });
  });

  it("finds the list of records in JSON, and the list of slots in each", async () => {
    const jobs = Array.from({ length: COUNT }, (_, index) => ({
      job: { no: 100 + index, "frame serial": `KD${index % 7}` },
      removed: written.iso(days(index)[0]!),
      reason: turn(["breakdown", "scheduled"], index),
      parts: [
        { component: "DE bearing", state: turn(["good", "failed"], index), replaced: true },
        { component: "PE bearing", state: "good", replaced: false },
      ],
    }));
    const draft = await draftOf("jobs.json.gz", gzipSync(JSON.stringify({ made: "today", data: { jobs } })));
    expect(pipelineOf(draft)).toMatchObject({ layout: "long", format: "json", records: "data.jobs[].parts" });
    expect(columnsOf(draft)).toEqual({
      card: "job.no",
      unit: "job.frame serial",
      removed_on: "removed",
      reason: "reason",
      slot: "parts.component",
      condition: "parts.state",
      fitted: "parts.replaced",
    });
    expect(wordsOf(draft, "slot")).toEqual({ "DE bearing": "drive_end_bearings", "PE bearing": "pump_end_bearing" });
  });

  it("understands measured values, one a row, each with its unit", async () => {
    const values = [
      ["Axial float as built", 4, "thou"],
      ["Ring temp", 101, "C"],
      ["Shaft runout", 0.02, "mm"],
    ];
    const text = [
      "Job no,Characteristic,Value,Unit",
      ...Array.from({ length: COUNT }, (_, index) => values.map((value) => [index + 1, ...value].join(","))).flat(),
      "",
    ].join("\n");
    const draft = await draftOf("measured.csv", text);
    const { layout, measures } = pipelineOf(draft);
    expect(layout).toBe("measured");
    expect(measures).toMatchObject({
      "Axial float as built": { field: "end_play", column: "Value", unit: "thou" },
      "Ring temp": { field: "ring_temperature", unit: "C" },
      "Shaft runout": null,
    });
    expect(questionTexts(draft)).toEqual(['"Shaft runout" (40 rows) is taken to be of no use here']);
  });

  it("joins two header rows of a workbook, whose upper titles are merged cells", async () => {
    const rows = [
      rowXml(1, ["Workshop report"]),
      rowXml(3, ["Job", "Frame", "Date out of plant", "Drive end bearing", "", "Pump end bearing", ""]),
      rowXml(4, ["No", "Serial", "Removed", "Found", "New", "Found", "New"]),
      ...Array.from({ length: COUNT }, (_, index) =>
        rowXml(5 + index, [
          `J${index}`,
          `F${index % 7}`,
          written.iso(days(index)[0]!),
          turn(["good", "failed"], index),
          turn(["Y", "N"], index),
          "good",
          "Y",
        ]),
      ),
    ];
    const draft = await draftOf(
      "report.xlsx",
      bookBytes({ sheets: [{ name: "Report", rows: rows.join(""), merged: ["D3:E3", "F3:G3"] }] }),
    );
    expect(draft.reading.header).toEqual([3, 4]);
    expect(columnsOf(draft)).toEqual({
      card: "Job / No",
      unit: "Frame / Serial",
      removed_on: "Date out of plant / Removed",
      "drive_end_bearings.condition": "Drive end bearing / Found",
      "drive_end_bearings.fitted": "Drive end bearing / New",
      "pump_end_bearing.condition": "Pump end bearing / Found",
      "pump_end_bearing.fitted": "Pump end bearing / New",
    });
  });

  it("drafts sheets of one kind together, and each other kind for itself", async () => {
    const sheet = (year: number) =>
      [
        rowXml(1, ["Job no", "Serial", "Removed"]),
        ...Array.from({ length: 12 }, (_, index) =>
          rowXml(2 + index, [`${year}-${index}`, `F${index % 5}`, `${year}-03-${10 + index}`]),
        ),
      ].join("");
    const units = [
      rowXml(1, ["Serial", "Model", "Commissioned"]),
      ...Array.from({ length: 5 }, (_, index) => rowXml(2 + index, [`F${index}`, "BF-80", `2015-01-1${index}`])),
    ].join("");
    const book = bookBytes({
      sheets: [
        { name: "2022", rows: sheet(2022) },
        { name: "2023", rows: sheet(2023) },
        { name: "Register", rows: units },
      ],
    });
    const drafts = await draftsOf({ "book.xlsx": book });
    expect(drafts.map((draft) => [draft.record, pipelineOf(draft).sheet])).toEqual([
      ["rebuild", ["2022", "2023"]],
      ["unit", ["Register"]],
    ]);
  });

  it.each([
    {
      record: "stock",
      text: "Item,Bin,Counted,Qty on hand,On order,Due\nQB-31,A1,2024-01-05,4,2,2024-03-01\nQB-22,A2,2024-01-05,0,,\n",
      columns: {
        part: "Item",
        place: "Bin",
        counted_on: "Counted",
        on_hand: "Qty on hand",
        on_order: "On order",
        due_on: "Due",
      },
    },
    {
      record: "part",
      text: "Teilenummer;Bezeichnung;Preis;Währung;Lieferzeit (Wochen)\nQB-31;Schrägkugellager, Paar;410,50;EUR;6\nQS-65;Wellendichtring aus Nitril;12,30;EUR;2\n",
      columns: {
        part: "Teilenummer",
        title: "Bezeichnung",
        price: "Preis",
        currency: "Währung",
        lead_time: "Lieferzeit (Wochen)",
      },
    },
    {
      record: "bearing",
      text: "Designation,Type,d (mm),D (mm),B (mm),C (kN),C0 (kN)\nQB-31,ball,50,110,27,60.5,47.5\nQB-22,roller,50,110,27,110,110\n",
      columns: {
        part: "Designation",
        kind: "Type",
        bore: 3,
        outside_diameter: 4,
        width: "B (mm)",
        dynamic_rating: "C (kN)",
        static_rating: "C0 (kN)",
      },
    },
    {
      record: "reading",
      text: "Equipment;Date;SMU\nF1;03/28/2024;1200\nF2;03/28/2024;8000\nF1;04/02/2024;1300\n",
      columns: { unit: "Equipment", read_on: "Date", hours: "SMU" },
    },
  ])("understands $record", async ({ record, text, columns }) => {
    const draft = await draftOf("list.csv", text);
    expect(draft.record).toBe(record);
    expect(columnsOf(draft)).toEqual(columns);
  });

  it("takes the ends of a frame in a column of components for its bearings, and asks", async () => {
    const row = (job: number, component: string) => `${job},F-${job},2020-0${job}-05,${component},failed,Y`;
    const text = ["Job no,Frame,Removed,Component,Condition,Replaced", row(1, "DE"), row(1, "NDE"), row(2, "DE"), ""];
    const draft = await draftOf("components.csv", text.join("\n"));
    expect(draft.layout).toBe("long");
    expect(wordsOf(draft, "slot")).toEqual({ DE: "drive_end_bearings", NDE: "pump_end_bearing" });
    expect(questionTexts(draft).join()).toContain(
      '"NDE" in column "Component" (1 cell) is taken to mean pump_end_bearing',
    );
  });

  it("refuses what is of no kind that it knows, naming the columns", async () => {
    await expect(draftOf("menu.csv", "Dish,Cook\nSoup,Ann\nStew,Bob\n")).rejects.toThrow(
      /Cannot draft a pipeline for exports\/menu\.csv.*"Dish", "Cook"/,
    );
  });
});
