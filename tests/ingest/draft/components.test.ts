import { describe, expect, it } from "vitest";
import { questionsOf } from "../../../src/ingest/draft/draft.ts";
import {
  columnsOf,
  dayAfter,
  draftOf,
  draftsOf,
  entryOf,
  pipelineOf,
  questionTexts,
  wordsOf,
  written,
} from "./drafts-at-hand.ts";

/** Cards of as many rows as there are components, twelve of them of four frames; what is left out of a row is left out of the header. */
function cards(
  header: string,
  components: string[],
  row: (card: number, component: string) => (string | number)[],
): string {
  const rows = Array.from({ length: 12 }, (_, card) => components.map((component) => row(card, component).join(",")));
  return [header, ...rows.flat(), ""].join("\n");
}

const day = (card: number) => written.iso(dayAfter(31 * card));
const long = (components: string[], header = "Component") =>
  cards(`Job no,Frame,Removed,${header},Condition,Replaced`, components, (card, component) => [
    `J${card}`,
    `F${card % 4}`,
    day(card),
    component,
    card % 3 ? "good" : "failed",
    "Y",
  ]);

describe("components by words that no dictionary knows", () => {
  it("become slots of their own, each to be confirmed", async () => {
    const draft = await draftOf("long.csv", long(["Mech A", "Mech B", "3-rulmen"]));
    expect(draft.layout).toBe("long");
    expect(wordsOf(draft, "slot")).toEqual({
      "Mech A": "mech_a",
      "Mech B": "mech_b",
      "3-rulmen": "component_1_3_rulmen",
    });
    expect(draft.ownSlots.map(({ title }) => title).toSorted()).toEqual(["3-rulmen", "Mech A", "Mech B"]);
    expect(questionTexts(draft)).toContain(
      '"Mech A" in column "Component" (12 cells) names no slot that is known here; it is taken for a slot of its own, mech_a',
    );
    expect(questionTexts(draft).filter((text) => text.includes("slot of its own"))).toHaveLength(3);
  });

  it("stand beside those that are known, and mean the same where a column names what failed", async () => {
    const text = cards(
      "Job no,Frame,Removed,Component,Failed part,Condition",
      ["DE bearing", "kece"],
      (card, component) => [`J${card}`, `F${card % 4}`, day(card), component, card % 2 ? "kece" : "DE bearing", "good"],
    );
    const draft = await draftOf("long.csv", text);
    expect(wordsOf(draft, "slot")).toEqual({ "DE bearing": "drive_end_bearings", kece: "kece" });
    expect(wordsOf(draft, "failed_slot")).toEqual({ "DE bearing": "drive_end_bearings", kece: "kece" });
    expect(questionTexts(draft).filter((text) => text.includes('"kece"'))).toHaveLength(1);
  });

  it.each([
    { words: ["Lager A-Seite", "Lager B-Seite"], means: ["lager_a_seite", "lager_b_seite"] },
    { words: ["Bearing 1", "Bearing 2"], means: ["bearing_1", "bearing_2"] },
    { words: ["Bearing", "brg"], means: ["bearings", "bearings"] },
    { words: ["Thrust bearing", "DE brg"], means: ["drive_end_bearings", "drive_end_bearings"] },
    { words: ["Ball bearing", "Seal"], means: ["bearings", "seals"] },
  ])("are kept apart where they are told apart by more than their kind: $words", async ({ words, means }) => {
    const draft = await draftOf("long.csv", long(words));
    expect(words.map((word) => wordsOf(draft, "slot")[word])).toEqual(means);
  });

  it("are named by answers", async () => {
    const answers = { "slot.words.mech a": "pump_end_bearing", "slot.words.mech b": "leave open" };
    const draft = await draftOf("long.csv", long(["Mech A", "Mech B"]), { answers });
    expect(wordsOf(draft, "slot")).toEqual({ "Mech A": "pump_end_bearing", "Mech B": undefined });
  });

  it("are left open where the workspace has slots, and where one is rare", async () => {
    const draft = await draftOf("long.csv", long(["Mech A", "DE bearing"]), { slots: ["drive_end_bearings"] });
    expect(wordsOf(draft, "slot")).toEqual({ "Mech A": undefined, "DE bearing": "drive_end_bearings" });
    const rare = await draftOf(
      "long.csv",
      long(["Mech A", "Mech B"]).replace("J0,F0,2020-01-01,Mech A", "J0,F0,2020-01-01,see note"),
    );
    expect(wordsOf(rare, "slot")).toEqual({ "Mech A": "mech_a", "Mech B": "mech_b", "see note": undefined });
  });

  it("are found by what tells the rows of a card apart, where the header says nothing of it", async () => {
    const draft = await draftOf("long.csv", long(["Mech A", "Mech B"], "Rack"));
    expect(pipelineOf(draft)).toMatchObject({ layout: "long", fields: { slot: { column: "Rack" } } });
    expect(questionTexts(draft)).toContain('column "Rack" is taken for slot: its header says little');
  });
});

describe("columns without a header", () => {
  it("are of no components by words that are not known", async () => {
    const cells = (card: number) => [`J${card}`, `F${card % 4}`, day(card), card % 3 ? "good" : "failed", "Y"];
    const rows = Array.from({ length: 24 }, (_, card) =>
      [...cells(card), ...Array(9).fill(card % 2 ? "k" : "m")].join(),
    );
    const draft = await draftOf("rows.csv", [...rows, ""].join("\n"));
    expect(draft.layout).toBe("wide");
    expect(draft.ownSlots).toEqual([]);
  });
});

describe("cards of several rows", () => {
  it("are refused where no column tells those apart, for each row would replace the one before", async () => {
    const text = cards("Job no,Frame,Removed,Condition,Hours booked", ["a", "b", "c"], (card, component) => [
      `J${card}`,
      `F${card % 4}`,
      day(card),
      "good",
      component.charCodeAt(0) + card,
    ]);
    await expect(draftOf("log.csv", text)).rejects.toThrow(
      'Cannot draft a pipeline for exports/log.csv: column "Job no" stands in 3.0 different rows on average, and no column tells which component each row is of',
    );
  });

  it("are none where a number stands on cards of several units: a card is known by its unit and day then", async () => {
    const text = cards("Work order,Frame,Removed,Condition", ["0", "1"], (card, component) => [
      `W${card}`,
      `F${2 * (card % 4) + Number(component)}`,
      day(card),
      "good",
    ]);
    const draft = await draftOf("log.csv", text);
    expect(draft.layout).toBe("wide");
    expect(entryOf(draft, "card", "compose")).toEqual(["unit", "removed_on"]);
    expect(columnsOf(draft)).toMatchObject({ unit: "Frame" });
  });

  it("are none where a card comes again in a later file", async () => {
    const row = (card: number, hours: number) => `J${card},F${card % 4},${day(card)},${hours}`;
    const of = (hours: number) =>
      [
        "Job no,Frame,Removed,Hours removed",
        ...Array.from({ length: 12 }, (_, card) => row(card, hours + card)),
        "",
      ].join("\n");
    const [draft] = await draftsOf({ "a.csv": of(2000), "b.csv": of(2100), "c.csv": of(2200) });
    expect(draft).toMatchObject({ layout: "wide", record: "rebuild" });
    expect(columnsOf(draft!)).toMatchObject({ card: "Job no" });
  });
});

describe("the ends of a frame", () => {
  const found = (first: string, second: string) => {
    const rows = Array.from(
      { length: 9 },
      (_, index) => `${index},F${index % 4},2024-03-05,ok,${index % 2 ? "ok" : "worn"}`,
    );
    return ["Card,Frame,Removed", `,${first},${second}\n`, ...rows.map((row) => `${row}\n`)]
      .join("")
      .replace("\n\n", "\n");
  };

  it.each([
    { headers: ["Lager AS Befund", "Lager LS Befund"], asks: [] },
    { headers: ["DE brg found", "NDE brg found"], asks: [] },
    { headers: ["Lager Antriebsseite Befund", "Lager Pumpenseite Befund"], asks: [] },
    { headers: ["Lager AS Befund", "Lager XS Befund"], asks: ["pump_end_bearing.slot"] },
  ])("are told by $headers", async ({ headers: [first = "", second = ""], asks }) => {
    const draft = await draftOf("cards.csv", found(first, second));
    expect(columnsOf(draft)).toMatchObject({
      "drive_end_bearings.condition": first,
      "pump_end_bearing.condition": second,
    });
    expect(questionsOf(draft).flatMap(({ id }) => (id.endsWith(".slot") ? [id] : []))).toEqual(asks);
  });

  it("are asked about where one word alone may say one", async () => {
    const draft = await draftOf("cards.csv", found("Lager LS Befund", "Fett"));
    expect(columnsOf(draft)).toMatchObject({ "bearings.condition": "Lager LS Befund" });
    expect(questionsOf(draft).map(({ id }) => id)).toContain("bearings.slot");
  });
});

describe("the parts fitted", () => {
  it("say under a title over several columns what was renewed", async () => {
    const text = [
      "Job,Frame,Station,Dates,,Pump end bearing,",
      "No.,serial,,out,in,found,fitted",
      "J1,K-01,S1,2021-03-05,2021-03-12,ok,R-22",
      "J2,K-02,S2,2021-04-17,2021-04-20,ok,",
      "J3,K-01,S1,2021-11-11,2021-11-15,worn,R-22",
      "",
    ].join("\n");
    const draft = await draftOf("cards.csv", text);
    expect(columnsOf(draft)).toMatchObject({
      site: "Station",
      removed_on: "Dates / out",
      installed_on: "Dates / in",
      "pump_end_bearing.part": "Pump end bearing / fitted",
      "pump_end_bearing.fitted": "Pump end bearing / fitted",
    });
    expect(wordsOf(draft, "pump_end_bearing.fitted")).toEqual({ "R-22": "yes" });
    expect(entryOf(draft, "pump_end_bearing.fitted", "default")).toBe("no");
    expect(questionTexts(draft).join()).toContain('column "Station" is taken for site: another column or field');
    expect(questionTexts(draft).join()).toContain("a blank to be kept");
    expect(questionTexts(draft).join()).not.toContain("no column says whether");
  });

  it("say so in rows of components, beside a card that is known by its id", async () => {
    const jobs = Array.from({ length: 6 }, (_, index) => ({
      id: `N-${index + 1}`,
      frame: `F${index % 2}`,
      removed: `2021-0${index + 1}-05T00:30:00+01:00`,
      components: [
        { slot: "DE bearing", condition: "failed", fitted: "BX" },
        { slot: "PE bearing", condition: "ok" },
      ],
    }));
    const draft = await draftOf("cards.json", JSON.stringify({ jobs }));
    expect(columnsOf(draft)).toMatchObject({ card: "id", removed_on: "removed", part: "components.fitted" });
    expect(wordsOf(draft, "fitted")).toEqual({ BX: "yes" });
    expect(questionTexts(draft).join()).toContain('column "id" is taken for card');
  });
});
