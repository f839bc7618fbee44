import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { TraceAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";

const CONFIGURATION = `
title: Quillhaven bearing-frame shop
as_of: 2023-12-31
fleets: [{ name: saltmere, title: Saltmere }]
slots:
  drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing }
  pump_end_bearing: { title: Pump-end bearing, quantity: 1, kind: bearing }
pipelines: [cards, units, retired, parts, stock]
`;

const CARDS = `
title: Cards
record: rebuild
files: exports/cards.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Frame }
  position: { column: To }
  removed_on: { column: Out, dates: ["%Y-%m-%d"] }
  installed_on: { column: Back, dates: ["%Y-%m-%d"] }
  reason: { column: Why, words: { failed: failure, due: planned } }
slots:
  drive_end_bearings: { fitted: { column: DE, words: { Y: yes, N: no } }, part: { column: DE part } }
  pump_end_bearing: { fitted: { column: PE, words: { Y: yes, N: no } }, part: { column: PE part } }
`;

const listed = (title: string, record: string, file: string, fields: string[]) =>
  `title: ${title}\nrecord: ${record}\nfiles: exports/${file}.csv\nfields:\n${fields.map((field) => `  ${field}\n`).join("")}`;
const DAY = 'dates: ["%Y-%m-%d"]';

// A was at P1 from its list, came out failed, went to P2, came out as planned and went to P1; B stands in for it there in between, and fails.
// Frame P7 runs at a place that is called as it is. C is on the list of P9 alone, and out of use.
const FILES = {
  "framelife.yaml": CONFIGURATION,
  "pipelines/cards.yaml": CARDS,
  "pipelines/units.yaml": listed("Units", "unit", "units", [
    "fleet: { value: saltmere }",
    "unit: { column: Frame }",
    "position: { column: At }",
    `commissioned_on: { column: New, ${DAY} }`,
  ]),
  "pipelines/retired.yaml": listed("Out of use", "retirement", "retired", [
    "fleet: { value: saltmere }",
    "unit: { column: Frame }",
    `retired_on: { column: On, ${DAY} }`,
  ]),
  "pipelines/parts.yaml": listed("Parts", "part", "parts", [
    "part: { column: Part }",
    "title: { column: Name }",
    "lead_time: { column: Days, unit: day }",
  ]),
  "pipelines/stock.yaml": listed("Stock", "stock", "stock", [
    "part: { column: Part }",
    "place: { column: Store }",
    `counted_on: { column: On, ${DAY} }`,
    "on_hand: { column: There }",
  ]),
  "exports/cards.csv": [
    "Card,Frame,To,Out,Back,Why,DE,DE part,PE,PE part",
    "K1,A,P2,2020-03-01,2020-04-01,failed,Y,QB-1,Y,QB-1",
    "K2,B,P1,2020-03-02,2020-03-05,due,Y,QB-1,N,",
    "K3,A,P1,2021-06-01,2021-07-10,due,Y,QB-2,N,",
    "K4,B,,2021-07-01,,failed,N,,Y,QB-1",
    "K5,P7,P7,2022-01-01,2022-02-01,failed,Y,QB-2,N,",
    "",
  ].join("\n"),
  "exports/units.csv": "Frame,At,New\nA,P1,2019-01-01\nB,,2019-01-01\nP7,P7,2019-01-01\nC,P9,2019-01-01\n",
  "exports/retired.csv": "Frame,On\nC,2020-01-01\n",
  "exports/parts.csv": "Part,Name,Days\nQB-1,Bearing pair,30\n",
  "exports/stock.csv": "Part,Store,On,There\nQB-1,main,2023-12-01,4\nQB-1,van,2023-11-01,1\n",
};

let folder = "";
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-places-"));
  for (const [path, text] of Object.entries(FILES)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const { status, err } = await runProgram(folder, "ingest");
  if (status !== 0) throw new Error(`Cannot make the workspace: ${err}`);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function trace(id: string) {
  const ran = await runProgram(folder, "trace", id, "--json");
  expect(ran).toMatchObject({ status: 0, err: "" });
  return TraceAnswerSchema.parse(JSON.parse(ran.out));
}

describe("framelife trace of a position", () => {
  it("gives the builds that ran there in their order, of whatever frame, with their ends", async () => {
    const traced = await trace("P1");
    expect(traced).toMatchObject({ kind: "position", id: "saltmere/P1", asOf: "2023-12-31", records: [], rows: [] });
    // By hand: A from new to K1, B from K2 to K4, A again since K3
    expect(traced.story.map(({ value, words }) => [value, words])).toEqual([
      ["saltmere/A/0", "2019-01-01 to 2020-03-01, ended by failure: 2 lives"],
      ["saltmere/B/1", "2020-03-05 to 2021-07-01, ended by failure: 1 life"],
      ["saltmere/A/2", expect.stringMatching(/^2021-07-10 to .*, not ended: 1 life$/)],
    ]);
    expect(traced.answer).toMatch(
      /^Position saltmere\/P1 has 3 builds of 2 frames from 2019-01-01 to .*: 2 ended by failure and 1 not ended\.$/,
    );
    expect(traced.story[1]!.trace).toEqual(["saltmere/B/1", "saltmere/B/drive_end_bearings/1"]);
  });

  it("counts a frame taken out of use for itself, and finds the place in any case of letters", async () => {
    for (const id of ["P9", "saltmere/P9", "p9", "position:P9"]) {
      expect((await trace(id)).answer).toBe(
        "Position saltmere/P9 has 1 build of 1 frame from 2019-01-01 to 2020-01-01: 1 ended as the frame was taken out of use.",
      );
    }
  });

  it("is asked for by its kind where a frame has its name", async () => {
    expect(await trace("P7")).toMatchObject({ kind: "unit", id: "saltmere/P7" });
    expect(await trace("position:P7")).toMatchObject({ kind: "position", id: "saltmere/P7" });
  });

  it("says what it can be called where nothing has the name", async () => {
    const { status, err } = await runProgram(folder, "trace", "P3");
    expect(status).toBe(1);
    expect(err).toMatch(/no card, unit, position, part, life, build, row or finding is called so, the nearest are /);
    expect(err).toContain("saltmere/P1");
    // the frame and the place of one name are one to type
    expect(err.match(/saltmere\/P7/g)).toHaveLength(1);
  });
});

describe("framelife trace of a part", () => {
  it("gives its lists, its counts and the cards on which it was fitted", async () => {
    const traced = await trace("QB-1");
    expect(traced).toMatchObject({ kind: "part", id: "QB-1", asOf: null, story: [], rows: [] });
    expect(traced.answer).toBe(
      "Part QB-1 is in 1 row of the lists of parts and bearings and in 2 counts of stock, and fitted on 3 cards, from 2020-03-05 to 2021-07-01.",
    );
    expect(traced.records.map(({ on, kind, says, trace: id }) => [on, kind, says, id])).toEqual([
      [null, "list", "Bearing pair, lead time 30 d", "exports/parts.csv:2"],
      ["2020-03-05", "card", "fitted at drive_end_bearings, to B", "saltmere/K2"],
      ["2020-04-01", "card", "fitted at drive_end_bearings and pump_end_bearing, to A", "saltmere/K1"],
      ["2021-07-01", "card", "fitted at pump_end_bearing, to B", "saltmere/K4"],
      ["2023-11-01", "count", "1 on hand, at van", "exports/stock.csv:3"],
      ["2023-12-01", "count", "4 on hand, at main", "exports/stock.csv:2"],
    ]);
    for (const { trace: id } of traced.records) expect((await trace(id)).id).toBe(id);
  });

  it("stands on cards alone where no list has it", async () => {
    expect((await trace("part:QB-2")).answer).toBe(
      "Part QB-2 is in 0 rows of the lists of parts and bearings and in 0 counts of stock, and fitted on 2 cards, from 2021-07-10 to 2022-02-01.",
    );
  });

  it("is told with its records in their table", async () => {
    const { out } = await runProgram(folder, "trace", "QB-1");
    expect(out).toContain("Records in order of time");
    expect(out).not.toContain("Events up to");
  });
});
