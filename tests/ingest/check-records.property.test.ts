import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { STEPS, valuesOf } from "../../src/lives/derive-lives.ts";
import { runStep } from "../../src/store/run-step.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { ScratchWorkspace } from "./scratch-workspace.ts";

const CARDS = `
title: Job cards
record: rebuild
files: exports/cards*.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Frame, tidy: [upper] }
  removed_on: { column: Out, dates: ["%Y-%m-%d"] }
  built_on: { column: Built, dates: ["%Y-%m-%d"] }
  hours_removed: { column: Meter }
  end_play: { column: EP, unit: thou, low: 0.5, high: 20 }
slots:
  drive_end_bearings:
    fitted: { column: New, words: { Y: yes, N: no } }
    condition: { column: Found, words: { bad: failed, good: serviceable } }
`;

const ROUNDS = `
title: Rounds
record: reading
files: exports/rounds.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Frame, tidy: [upper] }
  read_on: { column: Day, dates: ["%Y-%m-%d"] }
  hours: { column: Hours }
`;

const UNITS = `
title: Units
record: unit
files: exports/units.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
  commissioned_on: { column: New, dates: ["%Y-%m-%d"] }
`;

const HEADER = ["Card", "Frame", "Out", "Built", "Meter", "EP", "New", "Found"];
const FIELD_OF: Record<string, string> = { unit: "Frame", end_play: "EP", hours_removed: "Meter" };
const REAL = ["SM0227", "SM1350", "SM2491"];

const dayOf = (days: number) => new Date(Date.UTC(2015, 0, 1 + days)).toISOString().slice(0, 10);

/** A card of a unit, spoilt in some way: by its number, day, stay, meter, or a value in a unit of its own. */
const card = fc.record({
  number: fc.integer({ min: 1, max: 9 }),
  unit: fc.constantFrom(...REAL, "SMO227", "sm1350", "SM2941", ""),
  out: fc.integer({ min: 0, max: 1200 }).map((days) => days - (days % 100)), // many on one day
  stay: fc.integer({ min: -5, max: 150 }),
  hours: fc.option(
    fc.integer({ min: -1, max: 30 }).map((thousands) => thousands * 1000),
    { nil: undefined },
  ),
  endPlay: fc.constantFrom("5", "0.13 mm", "50", "", "#N/A"),
  fitted: fc.constantFrom("Y", "N", ""),
  found: fc.constantFrom("bad", "good", ""),
});

const reading = fc.record({
  unit: fc.constantFrom(...REAL, "SM227"),
  day: fc.integer({ min: 0, max: 1300 }),
  hours: fc.integer({ min: 0, max: 30 }).map((thousands) => thousands * 1000),
});

const mess = fc.record({
  files: fc.array(fc.array(card, { minLength: 1, maxLength: 6 }), { minLength: 3, maxLength: 3 }),
  rounds: fc.array(reading, { minLength: 1, maxLength: 8 }),
  commissioned: fc.integer({ min: 0, max: 1300 }),
  order: fc.shuffledSubarray([0, 1, 2], { minLength: 3 }),
});
type Mess = typeof mess extends fc.Arbitrary<infer Value> ? Value : never;

const rowOf = ({ number, unit, out, stay, hours, endPlay, fitted, found }: Mess["files"][number][number]) =>
  [`C${number}`, unit, dayOf(out), dayOf(out + stay), hours ?? "", endPlay, fitted, found].map(String);

/** The exports of a mess by path, cell by cell. */
function exportsOf({ files, rounds, commissioned }: Mess): Record<string, string[][]> {
  const cards = files.map(
    (rows, index) => [`exports/cards${index}.csv`, [HEADER, ...rows.map(rowOf)]] as [string, string[][]],
  );
  return Object.fromEntries([
    ...cards,
    [
      "exports/rounds.csv",
      [["Frame", "Day", "Hours"], ...rounds.map(({ unit, day, hours }) => [unit, dayOf(day), String(hours)])],
    ],
    ["exports/units.csv", [["Frame", "New"], ...REAL.map((unit) => [unit, dayOf(commissioned)])]],
  ]);
}

const csv = (rows: string[][]) => `${rows.map((row) => row.join(",")).join("\n")}\n`;

/** What people said of the exports beforehand. */
const SAID = {
  "aliases.csv": "fleet,unit,is,accept,because\nsaltmere,SMO227,SM0227,yes,\n",
  "corrections.csv":
    "record,fleet,id,field,old,new,reason,by\nrebuild,saltmere,C1,end_play,50,5,r,b\nrebuild,,C2,unit,,SMO227,r,b\nrebuild,,C3,hours_removed,-1000,1000,r,b\n",
};

function workspaceOf(exports: Record<string, string[][]>): ScratchWorkspace {
  const files = Object.entries(exports).map(([path, rows]) => [path, csv(rows)]);
  return new ScratchWorkspace(
    { cards: CARDS, rounds: ROUNDS, units: UNITS },
    { ...Object.fromEntries(files), ...SAID },
  );
}

/** Everything that the store says, told by paths and rows. */
async function said(workspace: ScratchWorkspace): Promise<string[][]> {
  const own = "join (select file_id, path from landing.file) using (file_id)";
  const tables = [
    `select * exclude (file_id) from records.rebuild ${own}`,
    `select * exclude (file_id) from records.fitting ${own}`,
    `select * exclude (file_id) from records.reading ${own}`,
    `select * exclude (file_id) from records.near_miss ${own}`,
    `select * exclude (file_id) from quarantine.finding ${own}`,
    `select * exclude (file_id) from landing.change ${own}`,
    `select * exclude (file_id) from landing.corrected ${own}`,
    "select * exclude (file_id) from landing.account",
  ];
  const found: string[][] = [];
  for (const sql of tables) found.push(await workspace.lines(`select * from (${sql}) order by all`));
  return found;
}

const settings = { seed: 20_251_125, numRuns: 3 };
const patience = 600_000;

describe("records looked over as a whole, for any mess", () => {
  it(
    "leave every account in balance, and are the same when read again, and in any order of the files",
    async () => {
      await fc.assert(
        fc.asyncProperty(mess, async (given) => {
          const exports = exportsOf(given);
          const whole = workspaceOf(exports);
          const { files } = await whole.ingest();
          for (const file of files) {
            const { notData, quarantined, duplicate, superseded, corrected, accepted } = file;
            expect(notData + quarantined + duplicate + superseded + corrected + accepted).toBe(file.read);
            expect(file.read).toBe(exports[file.path]!.length - 1);
          }
          const once = await said(whole);
          await whole.ingest();
          expect(await said(whole)).toEqual(once);
          const { "exports/units.csv": units, "exports/rounds.csv": rounds, ...cards } = exports;
          const first = `exports/cards${given.order[0]}.csv`;
          const bit = workspaceOf({ [first]: cards[first]! });
          await bit.ingest(["cards"]);
          for (const index of given.order.slice(1)) {
            const path = `exports/cards${index}.csv`;
            bit.write(path, csv(cards[path]!));
            await bit.ingest(["cards"]);
          }
          bit.write("exports/rounds.csv", csv(rounds!));
          bit.write("exports/units.csv", csv(units!));
          await bit.ingest(["units", "rounds"]);
          expect(await said(bit)).toEqual(once);
        }),
        settings,
      );
    },
    patience,
  );

  it(
    "can be taken back to the text of their cells, change by change",
    async () => {
      await fc.assert(
        fc.asyncProperty(mess, async (given) => {
          const exports = exportsOf(given);
          const workspace = workspaceOf(exports);
          await workspace.ingest();
          const changes = await workspace.rows(
            "select path, row, field, before, after from landing.change join landing.file using (file_id)",
          );
          for (const { path, row, field } of changes) {
            const own = changes.filter(
              (other) => other["path"] === path && other["row"] === row && other["field"] === field,
            );
            const [header, ...rows] = exports[String(path)]!;
            const cell = rows[Number(row) - 2]![header!.indexOf(FIELD_OF[String(field)]!)]!;
            expect(takenBack(own)).toBe(cell === "" ? null : cell);
          }
        }),
        settings,
      );
    },
    patience,
  );

  it(
    "judge meters as the lives do",
    async () => {
      await fc.assert(
        fc.asyncProperty(mess, async (given) => {
          const workspace = workspaceOf(exportsOf(given));
          await workspace.ingest();
          const connection = await workspace.connection();
          await runStep(connection, "29_checked");
          await runStep(connection, "29_evidence", { first: 1, last: 1_000 });
          await runStep(connection, "35_judged", { rollover_at: 100_000 });
          const judged = (units: string) =>
            workspace.lines(
              `select unit, on_day, place, tenths, step, breaks from meter_step join ${units} using (unit_id) order by all`,
            );
          const checked = await judged("checked_unit");
          const values = valuesOf(readWorkspace(workspace.folder).configuration, undefined);
          for (const step of STEPS.slice(0, STEPS.indexOf("35_judged") + 1)) await runStep(connection, step, values);
          expect(await judged("known_unit")).toEqual(checked);
        }),
        settings,
      );
    },
    patience,
  );
});

/** What stood there before all of the changes of one value: each takes up where the one before left off. */
function takenBack(changes: Record<string, unknown>[]): unknown {
  const first = changes.filter(
    ({ before }) => !changes.some((other) => other["before"] !== before && other["after"] === before),
  );
  expect(first).toHaveLength(1);
  return first[0]?.["before"];
}
