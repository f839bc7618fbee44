import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { shown } from "../../../src/ingest/draft/shown.ts";
import { writeDraft } from "../../../src/ingest/draft/write-draft.ts";
import { yamlScalar } from "../../../src/ingest/draft/yaml-text.ts";
import { draftOf, pipelineOf, wordsOf } from "./drafts-at-hand.ts";

const NASTY = [
  "# confirm: all is well",
  "x: y",
  "{ a: b }",
  "[1, 2]",
  "*anchor",
  "&anchor x",
  "!!js/function 'x'",
  "- item",
  "~",
  "null",
  "yes",
  "1e5",
  "'; drop table cells; --",
  '" quoted " text',
  "=cmd|' /C calc'!A0",
  "<script>alert(1)</script>",
  "\u001b[2J",
  "right\u202eto left",
  "line\u2028separator",
  "back\\slash",
  "%TAG ! x",
  "? key",
];
const quoted = (cell: string) => `"${cell.replaceAll('"', '""')}"`;

describe("what stands in an export", () => {
  it("stays data as a header and as a word, and no line of the draft comes of it", async () => {
    const header = ["Card", "Frame", "Removed", "Reason", ...NASTY].map(quoted).join(",");
    const rows = NASTY.map((word, index) =>
      [`K${index}`, `F${index % 5}`, "2024-03-05", `failed ${word}`, ...NASTY].map(quoted).join(","),
    );
    const draft = await draftOf("cards.csv", [header, ...rows, ""].join("\n"));
    const pipeline = pipelineOf(draft);
    expect(Object.keys(pipeline.fields)).toEqual(expect.arrayContaining(["card", "unit", "removed_on", "reason"]));
    const listed = Object.entries(wordsOf(draft, "reason")).filter(([, target]) => target !== undefined);
    expect(listed.length).toBeGreaterThan(10);
    expect(pipeline.fields["reason"]?.words).toEqual(Object.fromEntries(listed));
    const text = writeDraft(draft);
    expect(text.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\u2028\u202e]/u);
    expect(text.split("\n").filter((line) => line.startsWith("# confirm: all is well"))).toEqual([]);
  });

  describe("where a line break is lost and a row runs on", () => {
    const header = "Card,Frame,Pump,Out,Built,In,Meter,Why,End play,DE new,DE found,Mode";
    const ends = ["failed,2,Y,bad,worn lip", "hours up,3,Y,good,", "?,0.12 mm,Y,good,"];
    const cells = (at: number) => {
      const day = (more: number) => `${10 + at + more}/0${1 + (at % 9)}/${2016 + (at >> 2)}`;
      return `F${at % 4},P${at % 3},${day(0)},${day(2)},,${500 + 1700 * (at >> 2)},${ends[at % 3]}`;
    };
    const rows = Array.from({ length: 13 }, (_, at) => `J${at},${cells(at)}`);
    const runsOn = [...rows, `J13,${cells(13)}${`3,${cells(13)}`.repeat(6)}`];

    it("finds the titles, and keeps to their columns", async () => {
      const pipeline = pipelineOf(await draftOf("cards.csv", [header, ...runsOn].join("\n")));
      expect(Object.keys(pipeline.fields)).toEqual(expect.arrayContaining(["card", "unit", "removed_on", "reason"]));
      expect(pipeline.fields["card"]?.column).toBe("Card");
      expect(Object.keys(pipeline.slots ?? {})).toEqual(["drive_end_bearings"]);
    });
  });

  it.each(NASTY)("comes back from YAML as it was: %j", (text) => {
    expect(parse(`{ key: ${yamlScalar(text)}, ${yamlScalar(text)}: 1 }`)).toEqual({ key: text, [text]: 1 });
  });

  it("comes back from YAML whatever it is, and is one line in a comment", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 60 }), (text) => {
        const written = yamlScalar(text);
        expect(written).not.toMatch(/[\r\n]/);
        expect(parse(`key: ${written}\n`)).toEqual({ key: text });
        expect(parse(`[${written}]\n`)).toEqual([text]);
        expect(parse(`# ${shown(text)}\nkey: 1\n`)).toEqual({ key: 1 });
      }),
      { seed: 20261125, numRuns: 300 },
    );
  });
});
