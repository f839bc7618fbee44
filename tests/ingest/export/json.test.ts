import { readdirSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ExportsAtHand } from "./exports-at-hand.ts";

let exports: ExportsAtHand;
beforeAll(async () => {
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

const json = (text: string, how = {}) => exports.read("cards.json", text, { format: "json", ...how });
const ndjson = (text: string, how = {}) => exports.read("cards.ndjson", text, { format: "ndjson", ...how });

describe("records in JSON", () => {
  it("are columns in the order in which they first appear, and paths where they are nested", async () => {
    const text =
      '[{"card":"C1","unit":{"serial":"SM1","type":{"name":"M2"}}},{"late":1,"card":"C2","slots":[{"state":"ok"},{"state":"bad","n":2}]}]';
    expect(await json(text)).toEqual({
      header: ["card", "unit.serial", "unit.type.name", "late", "slots[0].state", "slots[1].state", "slots[1].n"],
      rows: [
        ["C1", "SM1", "M2", "", "", "", ""],
        ["C2", "", "", "1", "ok", "bad", "2"],
      ],
    });
  });

  it("keep numbers as they are written, whatever their length", async () => {
    const text =
      '[{"a":0.10,"b":12345678901234567890123,"c":-1.50e-3,"d":true,"e":false,"f":null,"g":"0.10","h":NaN,"i":{},"j":[]}]';
    const { header, rows } = await json(text);
    expect(header).toEqual(["a", "b", "c", "d", "e", "f", "g", "h"]);
    expect(rows).toEqual([["0.10", "12345678901234567890123", "-1.50e-3", "true", "false", "", "0.10", "NaN"]]);
    expect((await json('[{"a":0.10,"b":"0.10"}]', { decimalMark: "," })).rows).toEqual([["0,10", "0.10"]]);
  });

  it("keep texts as they stand: escapes, line ends, quotes, delimiters", async () => {
    const cell = 'a "b", c\\d\n\u00e4\u{1f600}\t';
    expect((await json(JSON.stringify([{ a: cell, b: "x" }]))).rows).toEqual([[cell, "x"]]);
    expect((await json('[{"a":"tab\there","b":"\\u0041\\/"}]')).rows).toEqual([["tab\there", "A/"]]);
  });

  it("keep keys that hold the marks of a path apart from paths", async () => {
    const { header, rows } = await json('[{"a.b":"1","a":{"b":"2"},"c[0]":"3","c":["4"],"d\\\\":"5","EP [thou]":"6"}]');
    expect(header).toEqual(["a\\.b", "a.b", "c\\[0]", "c[0]", "d\\\\", "EP [thou]"]);
    expect(rows).toEqual([["1", "2", "3", "4", "5", "6"]]);
  });

  it("keep both values of a key that stands twice", async () => {
    expect(await json('[{"a":"1","a":"2"},{"a":"3"}]')).toEqual({
      header: ["a", "a"],
      rows: [
        ["1", "2"],
        ["3", ""],
      ],
    });
  });

  it("that say nothing are records all the same", async () => {
    const source = await exports.open("cards.json", '[{},{"a":"x"},{"a":null}]', { format: "json" });
    expect(source.records).toBe(3);
    expect(await exports.table(source)).toEqual([[""], ["x"], [""]]);
    await source.close();
  });

  it.each([
    {
      records: "data.cards",
      text: '{"made":"2024-01-05","data":{"other":[{"x":1}],"cards":[{"a":1},{"a":2}]},"end":[[1,[2]]]}',
    },
    { records: "da\\.ta.cards", text: '{"da.ta":{"cards":[{"a":1},{"a":2}]}}' },
    { records: "cards", text: '{"note":"a \\"quoted\\" ] } text","cards":[ {"a":1} ,\n{"a":2} ]}' },
    { records: undefined, text: '\ufeff [\n{"a":1},{"a":2}\n]\n' },
    { records: "cards[]", text: '{"cards":[{"a":1},{"a":2}]}' },
  ])("are found at $records", async ({ records, text }) => {
    expect(await json(text, records === undefined ? {} : { records })).toEqual({ header: ["a"], rows: [["1"], ["2"]] });
  });

  it.each([
    { format: "json", records: "cards[].slots", text: '{"cards":[%s]}' },
    { format: "json", records: "[].slots", text: "[%s]" },
    { format: "ndjson", records: "slots", text: "%s" },
  ] as const)(
    "of a list inside each ($records in $format) stand beside the fields of their card",
    async ({ format, records, text }) => {
      const cards = [
        '{"card":"C1","slots":[{"part":"P1"},{"part":"P2","n":1}],"site":"Ostrel"}',
        '{"card":"C2","slots":[]}',
        '{"card":"C3","site":"Vennick"}',
        '{"card":"C4","slots":["P9"]}',
      ];
      const content = text.replace("%s", cards.join(format === "json" ? "," : "\n"));
      expect(await exports.read("cards", content, { format, records })).toEqual({
        header: ["card", "site", "slots.part", "slots.n", "slots"],
        rows: [
          ["C1", "Ostrel", "P1", "", ""],
          ["C1", "Ostrel", "P2", "1", ""],
          ["C2", "", "", "", ""],
          ["C3", "Vennick", "", "", ""],
          ["C4", "", "", "", "P9"],
        ],
      });
    },
  );

  it("of lists inside lists go down level by level", async () => {
    const text = '{"fleets":[{"name":"Saltmere","units":[{"id":"SM1","cards":[{"no":1},{"no":2}]}]}]}';
    expect(await json(text, { records: "fleets[].units[].cards" })).toEqual({
      header: ["name", "units.id", "units.cards.no"],
      rows: [
        ["Saltmere", "SM1", "1"],
        ["Saltmere", "SM1", "2"],
      ],
    });
  });

  it("may be none: the columns wanted stand in the header", async () => {
    expect(await json("[]", { wanted: [["Card", "No"], ["Frame"]] })).toEqual({ header: ["Card", "Frame"], rows: [] });
  });

  it("that are large are cut out whole over the pieces that a file is read in", async () => {
    const cards = Array.from({ length: 40 }, (_, index) => ({
      no: String(index),
      note: `${'\\"é'.repeat(10_000)}${index}`,
    }));
    const { rows } = await json(JSON.stringify({ cards }, null, 1), { records: "cards" });
    expect(rows).toEqual(cards.map(({ no, note }) => [no, note]));
  });
});

describe("lines of JSON", () => {
  it("are records; empty lines are none", async () => {
    expect(await ndjson('{"a":1}\r\n\n{"b":"x","a":2}')).toEqual({
      header: ["a", "b"],
      rows: [
        ["1", ""],
        ["2", "x"],
      ],
    });
  });
});

describe("JSON that can't be read", () => {
  it.each([
    { text: '[{"a":1},\n{"a":2]', message: 'line 2, record 2: no "," or "}" after a value at "]"' },
    { text: '[{"a":1},\n{"a":2,}]', message: 'line 2, record 2: no text in quotes at "}"' },
    { text: '[{"a":1},\n{"a":\n01}]', message: 'line 3, record 2: no "," or "}" after a value at "1}"' },
    { text: '[{"a":"\\x"}]', message: "an escape in a text is none of JSON's" },
    { text: '[{"a":1} {"a":2}]', message: "no comma between two records" },
    { text: "[1,2]", message: 'record 1: "1" is not an object with named values' },
    { text: '{"a":1}', message: "it is one object, not a list of records" },
    { text: '{"a":{"b":[]},"c":[1]}', message: 'where they are (lists are at "a.b", "c")' },
    { text: '{"a":1}\n{"a":2}\n', message: 'line 2: something stands after the end of its JSON; set "format: ndjson"' },
    { text: '[{"a":1}', message: "the file is cut off" },
    { text: '[{"a":"x', message: "the file is cut off" },
    { text: "Card,Frame\nC1,SM1\n", message: "it begins with no list and no object" },
    { text: " \n ", message: "it holds nothing but blanks" },
    { text: `[{"a":${"[".repeat(300)}${"]".repeat(300)}}]`, message: "lists and objects lie over 200 deep" },
    { text: '[{"a":"\\u0000"}]', message: "a cell of record 1 holds a zero character" },
    {
      text: '{"cards":[{"a":1}]}',
      records: "card",
      message: 'it has no list at "card", which "records" in its pipeline names; lists are at "cards"',
    },
    { text: '{"cards":[{"a":1}]}', records: "cards[0].slots", message: "write [] for each record" },
  ])("says why, and where: $message", async ({ text, message, ...how }) => {
    await expect(json(text, how)).rejects.toThrow(message);
    await expect(json(text, how)).rejects.toThrow(/^Cannot read cards\.json.*[;(]/);
    expect(readdirSync(exports.scratch)).toEqual([]);
  });

  it.each([
    { text: '{"a":1}\n{"a":2\n{"a":3}\n', message: "line 2, record 2: " },
    { text: '{"a":1}\n\n{"a":1} x\n', message: "line 3, record 2: text after the end of the record" },
    { text: '[{"a":1}]', message: 'set "format: json"' },
    { text: "\n\n", message: "it holds nothing but blanks" },
  ])("names the line: $message", async ({ text, message }) => {
    await expect(ndjson(text)).rejects.toThrow(message);
  });

  it("has names where values should be", async () => {
    const text = JSON.stringify([Object.fromEntries(Array.from({ length: 16_385 }, (_, index) => [`C${index}`, 1]))]);
    await expect(json(text)).rejects.toThrow("record 1 brings its columns over 16,384");
  });
});
