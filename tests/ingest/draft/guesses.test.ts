import { describe, expect, it } from "vitest";
import { questionsOf } from "../../../src/ingest/draft/draft.ts";
import { unitInHeader } from "../../../src/ingest/draft/unit-in-header.ts";
import { meaningOf, slotMeaning } from "../../../src/ingest/draft/vocabulary.ts";
import { writeDraft } from "../../../src/ingest/draft/write-draft.ts";
import { columnsOf, draftOf, draftsOf, entryOf, pipelineOf, questionTexts, wordsOf } from "./drafts-at-hand.ts";

/** Cards with one column of interest beside number, unit and a plain date. */
function cards(header: string, cells: (string | number)[], delimiter = ","): string {
  const rows = cells.map((cell, index) => [`K${index + 1}`, `F${index % 5}`, "2024-03-05", cell].join(delimiter));
  return [["Card", "Frame", "Removed", header].join(delimiter), ...rows, ""].join("\n");
}

describe("the order of day and month", () => {
  it.each([
    {
      what: "a day over 12 in the first place",
      cells: ["03/04/2023", "28/04/2023", "05/05/2023"],
      dates: ["%d/%m/%Y"],
      asks: 0,
    },
    {
      what: "a day over 12 in the second place",
      cells: ["03/04/2023", "04/28/2023", "05/05/2023"],
      dates: ["%m/%d/%Y"],
      asks: 0,
    },
    { what: "points between", cells: ["03.04.2023", "04.05.2023"], dates: ["%d.%m.%Y"], asks: 0 },
    { what: "nothing", cells: ["03/04/2023", "04/05/2023"], dates: ["%d/%m/%Y"], asks: 1 },
    {
      what: "cells both ways, most day first",
      cells: ["28/04/2023", "27/04/2023", "04/28/2023"],
      dates: ["%d/%m/%Y"],
      asks: 1,
    },
    {
      what: "two forms in one column",
      cells: ["28/04/2023", "2023-05-01", "01/06/2023"],
      dates: ["%d/%m/%Y", "%Y-%m-%d"],
      asks: 0,
    },
    {
      what: "two figures for the year, one cell of another length",
      cells: [...Array.from({ length: 30 }, (_, index) => `${10 + (index % 3)}/${13 + (index % 15)}/21`), "7/4/21"],
      dates: ["%m/%d/%y"],
      asks: 0,
    },
    { what: "a spreadsheet's day numbers", cells: ["45292", "45300", "45310"], dates: ["serial-1900"], asks: 0 },
    { what: "names of months", cells: ["3 Apr 2023", "28 Feb 2023"], dates: ["%d %b %Y"], asks: 0 },
    {
      what: "German names of months",
      cells: ["3. Mai 2022", "12. Dezember 2020", "1. Jänner 2021"],
      dates: ["%d. %b %Y"],
      asks: 0,
    },
    { what: "short German names", cells: ["03-Mär-21", "28-Okt-20", "01-Dez-20"], dates: ["%d-%b-%y"], asks: 0 },
    { what: "French names", cells: ["12 févr. 2020", "3 août 2021"], dates: ["%d %b %Y"], asks: 0 },
    {
      what: "Spanish names",
      cells: ["3 de mayo de 2022", "12 de septiembre de 2020"],
      dates: ["%d de %b de %Y"],
      asks: 0,
    },
    { what: "a time behind", cells: ["28/04/2023 07:30", "01/06/2023 16:05"], dates: ["%d/%m/%Y %H:%M"], asks: 0 },
    {
      what: "a time of twelve hours behind",
      cells: ["4/28/2023 6:00 AM", "6/1/2023 12:05 PM"],
      dates: ["%m/%d/%Y %I:%M %p"],
      asks: 0,
    },
    {
      what: "times with a zone",
      cells: ["2023-04-28T07:30:00+01:00", "2023-06-01T23:30:00Z", "2023-06-01T23:30:00.125Z"],
      dates: ["%Y-%m-%dT%H:%M:%S%z", "%Y-%m-%dT%H:%M:%S.%f%z"],
      asks: 0,
    },
  ])("is told by $what", async ({ cells, dates, asks }) => {
    const draft = await draftOf("cards.csv", cards("Installed", cells));
    expect(entryOf(draft, "installed_on", "dates")).toEqual(dates);
    expect(draft.fields.find(({ key }) => key === "installed_on")?.questions).toHaveLength(asks);
  });

  it("is told by the file's other dates where a column alone does not tell", async () => {
    const text = ["Card,Frame,Removed,Installed", "1,F1,03/04/2023,04/28/2023", "2,F2,05/04/2023,06/30/2023", ""].join(
      "\n",
    );
    const draft = await draftOf("cards.csv", text);
    expect(entryOf(draft, "removed_on", "dates")).toEqual(["%m/%d/%Y"]);
    expect(draft.fields.find(({ key }) => key === "removed_on")?.evidence).toContain(
      "as 2 cells of the file's other dates are",
    );
  });

  it("is taken from an answer", async () => {
    const answers = { "installed_on.dates": "month first" };
    const draft = await draftOf("cards.csv", cards("Installed", ["03/04/2023", "04/05/2023"]), { answers });
    expect(entryOf(draft, "installed_on", "dates")).toEqual(["%m/%d/%Y"]);
    expect(draft.fields.find(({ key }) => key === "installed_on")?.questions).toEqual([]);
  });

  it.each([
    {
      headers: "Date Out,Date In Service",
      fields: { removed_on: "Date Out", installed_on: "Date In Service" },
      asks: 0,
    },
    { headers: "Date In,Date Out", fields: { received_on: "Date In", built_on: "Date Out" }, asks: 0 },
    { headers: "Date Out,Date In", fields: { removed_on: "Date Out", installed_on: "Date In" }, asks: 0 },
    { headers: "Removed,Returned", fields: { removed_on: "Removed", installed_on: "Returned" }, asks: 1 },
    { headers: "Out,Back", fields: { removed_on: "Out", installed_on: "Back" }, asks: 2 },
  ])("tells what $headers are", async ({ headers, fields, asks }) => {
    const rows = Array.from(
      { length: 10 },
      (_, index) => `${index},F${index % 4},2024-03-${10 + index},2024-04-${10 + index}`,
    );
    const draft = await draftOf("cards.csv", [`Card,Frame,${headers}`, ...rows, ""].join("\n"));
    expect(columnsOf(draft)).toMatchObject(fields);
    expect(questionTexts(draft).filter((text) => text.includes("is taken for"))).toHaveLength(asks);
  });

  it("is doubted where the dates of cards come in an order that can't be", async () => {
    const rows = Array.from(
      { length: 20 },
      (_, index) => `${index + 1},F${index % 5},2024-03-${10 + (index % 10)},2024-02-01`,
    );
    const draft = await draftOf("cards.csv", ["Card,Frame,Removed,Installed", ...rows, ""].join("\n"));
    expect(questionTexts(draft).join()).toContain("in 20 of 20 rows removed_on lies after installed_on");
  });
});

// Bands: common practice, no source. Each column's cells lie inside the band of the unit expected, by hand.
describe("the unit of a number", () => {
  it.each([
    { header: "End play (thou)", cells: [2, 4, 6], unit: "thou", asks: 0 },
    { header: "End play", cells: [0.002, 0.004, 0.006], unit: "in", asks: 0 },
    { header: "End play", cells: [0.1, 0.13, 0.2], unit: "mm", asks: 0 },
    { header: "End play", cells: [90, 110, 130], unit: "um", asks: 0 },
    { header: "Axialspiel", cells: [6, 11, 18], unit: "0.01mm", asks: 1 }, // or thou
    { header: "Jeu axial (1/100 mm)", cells: [6, 11, 18], unit: "0.01mm", asks: 0 },
    { header: "End play", cells: ["0.13 mm", "5.1 thou", '.005"'], unit: "mm", asks: 0 },
    { header: "End play", cells: ["0.13 mm", "5.1 thou", "0.2"], unit: "mm", asks: 1 },
    { header: "End play", cells: [3, 4, 5.5], unit: "thou", asks: 0 },
    { header: "End play", cells: [13, 15, 18], unit: "thou", asks: 1 }, // 13 to 18 may be thou or um
    { header: "End play in", cells: [0.004, 0.005, 0.006], unit: "in", asks: 0 },
    { header: "ep_mm", cells: [0.1, 0.12, 0.15], unit: "mm", asks: 0 },
    { header: "End play (thou)", cells: [0.1, 0.13, 0.15], unit: "thou", asks: 1 }, // the header says thou, the values mm
  ])("of $header with $cells is $unit, with $asks question", async ({ header, cells, unit, asks }) => {
    const draft = await draftOf("cards.csv", cards(header, cells));
    expect(entryOf(draft, "end_play", "unit")).toBe(unit);
    expect(draft.fields.find(({ key }) => key === "end_play")?.questions).toHaveLength(asks);
  });

  it.each([
    { cells: [95, 101, 108], unit: "C" },
    { cells: [205, 213, 220], unit: "F" },
  ])("of ring temperatures $cells is $unit", async ({ cells, unit }) => {
    expect(entryOf(await draftOf("cards.csv", cards("Bearing temp", cells)), "ring_temperature", "unit")).toBe(unit);
  });

  it("sets no limits that cells in plenty lie beyond, and says so", async () => {
    const draft = await draftOf("cards.csv", cards("End play (thou)", [4, 5, 45, 50, 60, 48]));
    expect(entryOf(draft, "end_play", "high")).toBeUndefined();
    expect(questionTexts(draft).join()).toContain("beyond the 0.3 to 20 thou that a gauge for it reads");
  });

  it.each([
    { header: "End play (thou)", unit: "thou" },
    { header: "Axialspiel [mm]", unit: "mm" },
    { header: "Shaft float, in", unit: "in" },
    { header: "Ring temp. [°C]", unit: "C" },
    { header: "Spiel in µm", unit: "um" },
    { header: "Clearance 0.001 in", unit: "thou" },
    { header: "Jeu axial (1/100 mm)", unit: "0.01mm" },
    { header: "Axialspiel 1/100 mm", unit: "0.01mm" },
    { header: "Axialspiel [0,01 mm]", unit: "0.01mm" },
    { header: "Axialspiel 1/1000 mm", unit: "um" },
    { header: 'End play (1/1000")', unit: "thou" },
    { header: "Drehzahl [1/min]", unit: "rpm" },
    { header: "Frame no", unit: undefined },
  ])("is read off $header", ({ header, unit }) => {
    expect(unitInHeader(header)?.unit).toBe(unit);
  });
});

describe("the decimal mark", () => {
  it.each([
    { cells: ["0,13", "0,2", "1,5"], delimiter: ";", marks: { decimal_mark: "," } },
    { cells: ["0,125", "0,135"], delimiter: ";", marks: { decimal_mark: "," } }, // three figures behind a leading 0 are decimals
    { cells: ["1.234,5", "12.500,0"], delimiter: ";", marks: { decimal_mark: ",", thousands_mark: "." } },
    { cells: ["1'234.5", "12'500.0"], delimiter: ";", marks: { decimal_mark: ".", thousands_mark: "'" } },
    { cells: ['"1,234.5"', '"12,500.0"'], delimiter: ",", marks: { decimal_mark: ".", thousands_mark: "," } },
  ])("of $cells is $marks.decimal_mark", async ({ cells, delimiter, marks }) => {
    expect(pipelineOf(await draftOf("cards.csv", cards("Hours removed", cells, delimiter)))).toMatchObject(marks);
  });

  it("is asked where a mark stands before three figures only", async () => {
    const draft = await draftOf("cards.csv", cards("Hours removed", ["1,234", "2,345"], ";"));
    expect(questionTexts(draft).join()).toContain("if it is the decimal mark");
  });

  it.each([
    {
      what: "points, in a meter",
      text: "Frame,Date,Hour meter\nF1,2024-01-25,24.100\nF2,2024-01-15,16.500\n",
      marks: { decimal_mark: ",", thousands_mark: "." },
      asks: '2 numbers have a point before exactly three figures ("16.500"), and none has other decimals: taken as thousands',
    },
    {
      what: "points, beside dates with points",
      text: "Karte;Rahmen;Ausbau;Wert\n1;F1;05.03.2024;24.100\n2;F2;16.03.2024;9.350\n",
      marks: { decimal_mark: ",", thousands_mark: "." },
      asks: "taken as thousands, for its dates are written with points",
    },
    {
      what: "points, in a measure",
      text: "Card,Frame,Removed,Race depth\n1,F1,2024-03-05,25.125\n2,F2,2024-03-06,25.375\n",
      marks: { decimal_mark: "." },
      asks: 'taken as the decimal mark, for no date is written with points; if it stands between thousands, set decimal_mark: ","',
    },
    {
      what: "points, in a meter beside another column's decimals",
      text: "Card,Frame,Removed,Hours removed,End play\n1,F1,2024-03-05,24.100,0.12\n2,F2,2024-03-06,9.350,0.1\n3,F3,2024-03-07,8.125,0.1\n",
      marks: { decimal_mark: "." },
      asks: 'column "Hours removed" has a point before exactly three figures in 3 cells ("24.100"), and other columns have decimals',
    },
  ])("is asked of $what", async ({ text, marks, asks }) => {
    const draft = await draftOf("cards.csv", text);
    expect(draft.marks).toEqual(marks);
    expect(questionTexts(draft).join()).toContain(asks);
  });

  it.each([
    {
      what: "points twice in a number",
      cells: ["1.234.500", "24.100"],
      marks: { decimal_mark: ",", thousands_mark: "." },
    },
    {
      what: "decimals with a unit behind",
      cells: ["16,5 h", "24.100 h"],
      marks: { decimal_mark: ",", thousands_mark: "." },
    },
  ])("is evident by $what", async ({ cells, marks }) => {
    const draft = await draftOf("cards.csv", cards("Hours removed", cells, ";"));
    expect(draft.marks).toEqual(marks);
    expect(draft.questions.filter(({ id }) => id.startsWith("decimal_mark"))).toEqual([]);
  });
});

describe("an owner's word", () => {
  it.each([
    { list: "reason", word: "brg shot", means: "failure" },
    { list: "reason", word: "b/f seized - no oil", means: undefined }, // it denies something: a person says what
    { list: "reason", word: "hours up", means: "planned" },
    { list: "reason", word: "unplanned stop", means: "failure" },
    { list: "reason", word: "Zeitplan", means: "planned" },
    { list: "reason", word: "Umbau auf Öl", means: "modification" },
    { list: "reason", word: "Anlagenstillstand", means: "opportunity" },
    { list: "reason", word: "see back of card", means: undefined },
    { list: "condition", word: "defekt", means: "failed" },
    { list: "condition", word: "not looked at", means: "not_inspected" },
    { list: "condition", word: "no good", means: "failed" },
    { list: "condition", word: "not damaged", means: undefined },
    { list: "condition", word: "n.i.O.", means: "failed" },
    { list: "condition", word: "SCRAP", means: "failed" },
    { list: "damage_mode.bearing", word: "micro-pitting of the race", means: "surface_fatigue" },
    { list: "damage_mode.bearing", word: "no brg damage", means: undefined },
    { list: "damage_mode.seal", word: "Lippe verhärtet", means: "lip_hardening" },
    { list: "lube", word: "Ölbad", means: "oil_bath" },
    { list: "fitted", word: "✓", means: "yes" },
    { list: "fitted", word: "N-1", means: undefined }, // the name of a thing
    { list: "fitted", word: "7318-X", means: undefined },
  ])("of $list, $word, means $means", ({ list, word, means }) => {
    expect(meaningOf(list, word)?.target).toBe(means);
  });

  it.each([
    { word: "drive end brgs gone", slot: "drive_end_bearings" },
    { word: "NDE bearing", slot: "pump_end_bearing" },
    { word: "leaking pump end", slot: "pump_end_seals" },
    { word: "Wellenhülse", slot: "shaft_sleeve" },
    { word: "Lager AS", slot: "drive_end_bearings" },
    { word: "noisy", slot: undefined },
  ])("names the slot: $word", ({ word, slot }) => {
    expect(slotMeaning(word, true)?.target).toBe(slot);
  });

  it("is asked once for all slots, and its answer counts for all", async () => {
    const rows = Array.from(
      { length: 12 },
      (_, index) => `${index},F${index % 4},2024-03-05,${index % 2 ? "ok" : "meh"},${index % 3 ? "ok" : "meh"}`,
    );
    const text = ["Card,Frame,Removed,DE brg found,PE brg found", ...rows, ""].join("\n");
    const open = await draftOf("cards.csv", text);
    const asked = questionsOf(open).filter(({ options }) => options.length > 1);
    expect(asked.map(({ id }) => id)).toEqual(["condition.words.meh"]);
    const draft = await draftOf("cards.csv", text, { answers: { "condition.words.meh": "worn" } });
    for (const slot of ["drive_end_bearings", "pump_end_bearing"])
      expect(wordsOf(draft, `${slot}.condition`)).toEqual({ ok: "serviceable", meh: "worn" });
  });
});

describe("an export in French", () => {
  it("is drafted by the words that its shops write", async () => {
    const text = [
      "N° de fiche;N° de série;Repère;Date de dépose;Date de pose;Heures;Motif;Jeu axial (mm);État roulement côté commande;Roulement côté commande remplacé",
      ...Array.from(
        { length: 9 },
        (_, index) =>
          `F${index};PB-${index % 3};R${index % 4};${10 + index}/03/2021;${12 + index}/04/2021;1${index} 340;${index % 2 ? "panne" : "préventif"};0,1${index};${index % 2 ? "usé" : "non contrôlé"};${index % 2 ? "oui" : "non"}`,
      ),
      "",
    ].join("\n");
    const draft = await draftOf("fiches.csv", text);
    expect(columnsOf(draft)).toMatchObject({
      card: "N° de fiche",
      unit: "N° de série",
      position: "Repère",
      removed_on: "Date de dépose",
      installed_on: "Date de pose",
      hours_removed: "Heures",
      reason: "Motif",
      end_play: "Jeu axial (mm)",
      "drive_end_bearings.condition": "État roulement côté commande",
      "drive_end_bearings.fitted": "Roulement côté commande remplacé",
    });
    expect(wordsOf(draft, "reason")).toEqual({ panne: "failure", préventif: "planned" });
    expect(wordsOf(draft, "drive_end_bearings.condition")).toEqual({ usé: "worn", "non contrôlé": "not_inspected" });
    expect(wordsOf(draft, "drive_end_bearings.fitted")).toEqual({ oui: "yes", non: "no" });
  });
});

describe("the unit", () => {
  const rows = Array.from({ length: 9 }, (_, index) => `${index},Q-${index % 3},2024-03-1${index % 9},5${index}00`);
  it.each(["Ser. No", "Serial", "Ser.-Nr."])("is told by %s", async (header) => {
    const draft = await draftOf("cards.csv", [`Card,${header},Removed,Hours`, ...rows, ""].join("\n"));
    expect(columnsOf(draft)).toMatchObject({ unit: header });
    expect(draft.fields.find(({ key }) => key === "unit")?.questions).toEqual([]);
  });

  it("is the likeliest column, to be confirmed, where no header tells", async () => {
    const draft = await draftOf("cards.csv", [`Card,Zarn,Removed,Hours`, ...rows, ""].join("\n"));
    expect(columnsOf(draft)).toMatchObject({ unit: "Zarn" });
    expect(questionTexts(draft).join()).toContain(
      'column "Zarn" is taken for unit: no header tells the unit; 3 different texts stand in its 9 cells',
    );
  });

  it("is asked for in words that help where no column may be it", async () => {
    const text = ["Card,Removed,Hours", "1,2024-03-05,500", "2,2024-03-06,600", ""].join("\n");
    await expect(draftOf("cards.csv", text, { record: "rebuild" })).rejects.toThrow(
      /lacks unit among its columns "Card", "Removed", "Hours"; export a column that names each row's unit/,
    );
  });
});

describe("marks for nothing in numbers", () => {
  it("are proposed as blanks, where no other column means something by them", async () => {
    const text = [
      "Card;Frame;Removed;Hours;Reason;End play (mm)",
      "1;F1;2024-03-05;n/a;failed;0,12",
      "2;F2;2024-03-06;500;?;k.A.",
      "3;F1;2024-03-07;?;planned;0,1",
      "4;F2;2024-03-08;800;planned;-",
      "",
    ].join("\n");
    const draft = await draftOf("cards.csv", text);
    expect(pipelineOf(draft).blank.toSorted()).toEqual(["-", "k.A.", "n/a"]);
    expect(writeDraft(draft)).toContain('# evidence: "n/a" stands for nothing in 1 cell of numbers');
    expect(questionTexts(draft).join()).toContain('"?" stands in 1 cell of numbers');
  });
});

describe("fleets", () => {
  const owned = (owners: string[]) =>
    ["Card,Frame,Removed,Owner", ...owners.map((owner, index) => `${index},F${index},2024-03-05,${owner}`), ""].join(
      "\n",
    );

  it("come of a column of few texts", async () => {
    const draft = await draftOf("cards.csv", owned(["Fen Drainage", "Ostrel Quarry", "Fen Drainage", "-"]));
    expect(draft.fleets).toEqual([
      { name: "fen-drainage", title: "Fen Drainage" },
      { name: "ostrel-quarry", title: "Ostrel Quarry" },
    ]);
    expect(wordsOf(draft, "fleet")).toEqual({
      "Fen Drainage": "fen-drainage",
      "Ostrel Quarry": "ostrel-quarry",
      "-": null,
    });
  });

  it("are those of the workspace where there is one, and others are asked about", async () => {
    const known = [{ name: "fen", title: "Fen Drainage" }];
    const draft = await draftOf("cards.csv", owned(["Fen Drainage", "Ostrel Quarry"]), {
      fleet: { known, otherwise: known[0]!, isPlain: true },
    });
    expect(wordsOf(draft, "fleet")).toEqual({ "Fen Drainage": "fen", "Ostrel Quarry": undefined });
    expect(questionTexts(draft).join()).toContain('"Ostrel Quarry" (1 row) is no fleet of the workspace');
  });
});

describe("files of one kind", () => {
  it("share a pipeline, in the encoding of those that need one", async () => {
    const card = (number: number, site: string) => `Card,Frame,Removed,Site\n${number},F1,2024-03-05,${site}\n`;
    const drafts = await draftsOf({
      "a.csv": card(1, "Nord"),
      "b.csv": Buffer.from(card(2, "Süd"), "latin1"),
      "c.csv": card(3, "Süd"),
      "d.csv": card(2, "Ost"),
    });
    expect(drafts.map((draft) => [draft.reading.encoding, draft.files])).toEqual([
      ["windows-1252", ["exports/a.csv", "exports/b.csv", "exports/d.csv"]],
      ["utf-8", ["exports/c.csv"]],
    ]);
    expect(questionTexts(drafts[0]!).join()).toContain('1 record by column "Card" in more than one file');
  });

  it("are read whatever their encoding or delimiter", async () => {
    const text = "Card;Frame;Removed;Site\n1;F1;2024-03-05;Süd\n2;F2;2024-03-06;Nord\n";
    const draft = await draftOf("cards.txt", Buffer.from(`\ufeff${text}`, "utf16le"));
    expect(pipelineOf(draft)).toMatchObject({ encoding: "utf-16", delimiter: ";", format: "csv" });
    expect(draft.rows).toBe(2);
  });

  it("have rows of totals that are no data", async () => {
    const rows = Array.from({ length: 9 }, (_, index) => `${index},F${index},2024-03-05,West,oil`);
    const draft = await draftOf(
      "cards.csv",
      ["Card,Frame,Removed,Site,Lube", ...rows, "End of list (west),,,,", ""].join("\n"),
    );
    expect(pipelineOf(draft).not_data).toEqual([{ column: "Card", matches: "end\\s+of\\s+list\\s+\\(west\\)" }]);
  });
});

describe("the words of a draft", () => {
  it.each([
    "Card,Frame,Removed,End play (mm)\n1,F1,13/04/2024,0.12 mm\n",
    "Card,Frame,Removed,Installed\n1,F1,13/04/2024,03/05/2024\n",
    "Card,Frame,Removed,Installed\n1,F1,3 Apr 2024,45500\n2,F1,04/14/2024,\n3,F1,14/04/2024,\n4,F2,15/04/2024,\n",
    'Card;Frame;Removed;Hours removed\n1;F1;2024-04-03;"1,234"\n',
    "Card,Frame,Removed,Owner\n1,F1,2024-04-03,Fen\n",
  ])("count one thing as one: %j", async (text) => {
    const draft = writeDraft(await draftOf("cards.csv", text));
    expect(draft).not.toMatch(/\b1 (more )?(cells|numbers|rows|columns|records|lines|different texts)\b/);
  });
});
