import { describe, expect, it } from "vitest";
import { type Draft, fieldName } from "../../../src/ingest/draft/draft.ts";
import { draftOf, entryOf, questionTexts } from "./drafts-at-hand.ts";
import { exportOf, STYLES, type Style } from "./header-styles.ts";

/** Headers of columns that a draft takes for nothing, and those that it takes for another field than they are, asked about or not. */
function judge({ columns }: Style, draft: Draft): { missed: string[]; wrong: string[] } {
  const judged: { missed: string[]; wrong: string[] } = { missed: [], wrong: [] };
  for (const [index, [header, wanted]] of columns.entries()) {
    const names = draft.fields.filter(({ column }) => column?.place === index + 1).map(fieldName);
    if (names.length === 0 && wanted !== null) judged.missed.push(header);
    if (names.length > 0 && (wanted === null || !names.includes(wanted)))
      judged.wrong.push(`${header}: ${names.join()}`);
  }
  return judged;
}

/** Too little of a name to be taken without another word. */
const MISSED = ["Our ref"];

describe("columns of exports", () => {
  it.each(STYLES)("are told in $name", async (style) => {
    const draft = await draftOf("log.csv", exportOf(style));
    const { missed, wrong } = judge(style, draft);
    expect(wrong).toEqual([]);
    expect(missed.filter((header) => !MISSED.includes(header))).toEqual([]);
  });

  it("have their units read off a line of units", async () => {
    const draft = await draftOf("log.csv", exportOf(STYLES.find(({ units }) => units !== undefined)!));
    expect(draft).toMatchObject({ reading: { header: [1, 2] }, rows: 40 });
    expect([entryOf(draft, "end_play", "unit"), entryOf(draft, "ring_temperature", "unit")]).toEqual(["mm", "C"]);
  });

  it.each([
    { style: "terse English", asks: 'column "Run hrs" is taken for hours_removed: its header says little' },
    {
      style: "terse English",
      asks: 'column "DE found" and its like are taken for drive_end_bearings: the header names an end',
    },
    { style: "German", asks: 'column "Spiel (mm)" is taken for end_play: its header says little' },
    { style: "German", asks: 'column "Zurück am" is taken for received_on: its header says little' },
  ])("are asked about where their header means several things: $asks", async ({ style, asks }) => {
    const draft = await draftOf("log.csv", exportOf(STYLES.find(({ name }) => name === style)!));
    expect(questionTexts(draft).join("\n")).toContain(asks);
  });
});

describe("hours of a unit", () => {
  const log = (hours: (card: number) => number) =>
    [
      "Job no,Frame,Removed,Hours",
      ...Array.from({ length: 12 }, (_, card) => `J${card},F${card % 3},20${10 + card}-05-01,${hours(card)}`),
      "",
    ].join("\n");

  it("that fall from card to card are asked about: they may count from the last rebuild", async () => {
    // By hand: three frames of four cards each, so that 9 cards have one before; the hours of each are 100 less
    const draft = await draftOf(
      "log.csv",
      log((card) => 5000 - 100 * Math.floor(card / 3)),
    );
    expect(questionTexts(draft).join()).toContain(
      'column "Hours" is taken for hours_removed, the meter at removal: but in 9 of 9 cards it is less than on the unit\'s card before',
    );
    const answered = await draftOf(
      "log.csv",
      log((card) => 5000 - 100 * card),
      { answers: { "hours_removed.column": "no" } },
    );
    expect(answered.fields.some(({ key }) => key === "hours_removed")).toBe(false);
  });

  it("that rise are the meter's", async () => {
    const draft = await draftOf(
      "log.csv",
      log((card) => 5000 + 100 * card),
    );
    expect(questionTexts(draft).join()).not.toContain("hours");
  });
});
