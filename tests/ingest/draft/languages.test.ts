import { describe, expect, it } from "vitest";
import { columnsOf, dayAfter, draftOf, entryOf, turn, wordsOf } from "./drafts-at-hand.ts";

const day = (days: number) => dayAfter(days).toISOString().slice(0, 10);
const table = (header: string[], row: (index: number) => (string | number)[]) =>
  [header, ...Array.from({ length: 40 }, (_, index) => row(index))].map((cells) => `${cells.join(";")}\n`).join("");
const days = (index: number) => [0, 2, 9, 30].map((later) => day(index * 23 + later));

describe("heads and words of a shop", () => {
  it("are read in Spanish", async () => {
    const draft = await draftOf(
      "ordenes.csv",
      table(
        [
          "Nº Orden",
          "Nº de serie",
          "Ubicación",
          "Fecha desmontaje",
          "Fecha recepción",
          "Fecha terminado",
          "Fecha puesta en marcha",
          "Horómetro",
          "Motivo",
          "Rodamiento lado acople estado",
          "Rodamiento lado acople cambiado",
          "Retén lado bomba estado",
          "Juego axial final (mm)",
          "Juego axial encontrado (mm)",
          "Lubricación",
          "Observaciones",
        ],
        (index) => [
          700 + index,
          `K${index % 6}`,
          `B-${index % 5}`,
          ...days(index),
          4000 + 37 * index,
          turn(["falla", "programado", "oportunidad"], index),
          turn(["roto", "desgastado", "bueno"], index),
          turn(["sí", "no"], index),
          turn(["fallado", "bien"], index),
          turn(["0,08", "0,12", "0,15"], index),
          turn(["0,2", "0,25"], index),
          turn(["aceite", "grasa"], index),
          "",
        ],
      ),
    );
    expect(columnsOf(draft)).toEqual({
      card: "Nº Orden",
      unit: "Nº de serie",
      position: "Ubicación",
      removed_on: "Fecha desmontaje",
      received_on: "Fecha recepción",
      built_on: "Fecha terminado",
      installed_on: "Fecha puesta en marcha",
      hours_removed: "Horómetro",
      reason: "Motivo",
      "drive_end_bearings.condition": "Rodamiento lado acople estado",
      "drive_end_bearings.fitted": "Rodamiento lado acople cambiado",
      "pump_end_seals.condition": "Retén lado bomba estado",
      end_play: "Juego axial final (mm)",
      end_play_found: "Juego axial encontrado (mm)",
      lube: "Lubricación",
      remarks: "Observaciones",
    });
    expect(wordsOf(draft, "reason")).toEqual({ falla: "failure", programado: "planned", oportunidad: "opportunity" });
    expect(wordsOf(draft, "drive_end_bearings.condition")).toMatchObject({
      roto: "failed",
      desgastado: "worn",
      bueno: "serviceable",
    });
    expect(wordsOf(draft, "lube")).toEqual({ aceite: "oil_bath", grasa: "grease" });
  });

  it("are read where they are short", async () => {
    const draft = await draftOf(
      "wo.csv",
      table(
        [
          "WO #",
          "SN",
          "Dt Out",
          "Dt Bltd",
          "Dt Back In",
          "RFR",
          "DE Brg",
          "DE Brg chgd",
          "E/P As Blt (thou)",
          "E/P As Fnd (thou)",
        ],
        (index) => [
          700 + index,
          `K${index % 6}`,
          ...days(index).slice(0, 3),
          turn(["BRKDN", "PM"], index),
          turn(["failed", "ok"], index),
          turn(["done", "n/a"], index),
          turn([3, 4.5, 6], index),
          turn([9, 12], index),
        ],
      ),
    );
    expect(columnsOf(draft)).toMatchObject({
      built_on: "Dt Bltd",
      reason: "RFR",
      "drive_end_bearings.fitted": "DE Brg chgd",
      end_play: "E/P As Blt (thou)",
      end_play_found: "E/P As Fnd (thou)",
    });
    expect(wordsOf(draft, "reason")["BRKDN"]).toBe("failure");
    expect(wordsOf(draft, "drive_end_bearings.fitted")["done"]).toBe("yes");
  });

  it("are read on lists of places, speeds and bearings", async () => {
    const cards = table(["Auftrag", "Lagerträger", "Aufstellort", "Ausbau", "Vitesse (tr/min)"], (index) => [
      index,
      `K${index % 6}`,
      `P${index % 5}`,
      day(index),
      turn([1480, 2950], index),
    ]);
    expect(columnsOf(await draftOf("cards.csv", cards))).toMatchObject({
      position: "Aufstellort",
      speed: "Vitesse (tr/min)",
    });
    const bearings = "Brg;Type;C;C0;d;D;B\nQB-31;ACBB;112.5;90.1;70;150;35\nQR-20;CRB;190;186;65;140;33\n";
    const draft = await draftOf("brg.csv", bearings);
    expect(columnsOf(draft)).toMatchObject({ part: "Brg", bore: 5, outside_diameter: 6, dynamic_rating: "C" });
    expect(wordsOf(draft, "kind")).toEqual({ ACBB: "ball", CRB: "roller" });
    expect(entryOf(draft, "dynamic_rating", "unit")).toBe("kN");
  });

  it("are read in two rows of which the lower has a unit, and hours with theirs behind them", async () => {
    const draft = await draftOf(
      "lager.csv",
      `Nr.;Gerät;;Datum;;Zählerstand;Lager AS;;Axialspiel\n${table(
        ["", "Nr.", "Pumpe", "Ausbau", "Einbau", "", "Befund", "getauscht", "(1/100)"],
        (index) => [
          700 + index,
          `K${index % 6}`,
          `P-${index % 5}`,
          ...days(index).slice(0, 2),
          `${12 + index} 345,5 Std.`,
          turn(["def.", "verschl.", "i.O."], index),
          turn(["j", "n"], index),
          turn([6, 9, 12], index),
        ],
      )}`,
    );
    expect(columnsOf(draft)).toMatchObject({
      unit: "Gerät / Nr.",
      removed_on: "Datum / Ausbau",
      installed_on: "Datum / Einbau",
      hours_removed: "Zählerstand",
      "drive_end_bearings.condition": "Lager AS / Befund",
      "drive_end_bearings.fitted": "Lager AS / getauscht",
    });
    expect(entryOf(draft, "end_play", "unit")).toBe("0.01mm");
    expect(draft.marks).toEqual({ decimal_mark: ",", thousands_mark: " " });
    expect(wordsOf(draft, "drive_end_bearings.condition")).toMatchObject({ "def.": "failed", "verschl.": "worn" });
  });

  it("name measured values in French, with the unit in a column", async () => {
    const draft = await draftOf(
      "mesures.csv",
      table(["Fiche", "Mesure", "Valeur", "Unité"], (index) => [
        Math.floor(index / 2),
        turn(["Jeu axial réglé", "Cales"], index),
        turn(["12", "0,5"], index),
        turn(["1/100 mm", "mm"], index),
      ]),
    );
    expect(draft.layout).toBe("measured");
    expect(
      draft.measures.map(({ text, field, entries }) => [text, field, Object.fromEntries(entries)["unit"]]),
    ).toEqual([
      ["Cales", "shims", "mm"],
      ["Jeu axial réglé", "end_play", "0.01mm"],
    ]);
  });
});
