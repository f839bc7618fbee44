import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { program } from "../../src/program.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { bookBytes, rowXml } from "../ingest/export/workbook-bytes.ts";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function write(files: Record<string, string>): void {
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
}

const two = (number: number) => String(number).padStart(2, "0");
const day = (days: number) => new Date(Date.UTC(2020, 0, 1 + days)).toISOString().slice(0, 10);
const table = (header: string, count: number, row: (index: number) => (string | number)[]) =>
  [header, ...Array.from({ length: count }, (_, index) => row(index).join(",")), ""].join("\n");

// Six frames, each back every 180 days: the drive-end bearings fail at every other visit.
const CARDS = table(
  "Job no,Serial,Tag,Removed,Installed,Hours removed,Reason,End play (thou),DE brg found,DE brg new",
  48,
  (index) => [
    `J${100 + index}`,
    `F${index % 6}`,
    `P${index % 4}`,
    day(30 * index),
    day(30 * index + 12),
    2000 + 400 * Math.floor(index / 6) + 50 * (index % 5),
    index % 2 === Math.floor(index / 6) % 2 ? "bearing noisy" : "PM",
    3 + (index % 4),
    index % 2 === Math.floor(index / 6) % 2 ? "shot" : "good",
    "Y",
  ],
);
const UNITS = table("Serial,Model,Commissioned,Last seen in service", 6, (index) => [
  `F${index}`,
  "BF-80",
  `2018-03-${two(index + 1)}`,
  "2024-01-31",
]);
const READINGS = table("Serial,Date read,Hours", 12, (index) => [
  `F${index % 6}`,
  `2024-0${1 + Math.floor(index / 6)}-15`,
  5300 + 100 * index,
]);

describe("framelife init --from", () => {
  it("makes a workspace that answers at once", async () => {
    write({ "from/cards.csv": CARDS, "from/units.csv": UNITS, "from/rounds.csv": READINGS });
    const made = await runProgram(
      folder,
      "init",
      "quillhaven",
      "--from",
      "from/cards.csv",
      "from/units.csv",
      "from/rounds.csv",
    );
    expect(made).toMatchObject({ status: 0, err: "" });
    // By hand: one fleet named for the folder, one slot with columns, three kinds of exports; open is since when cards are on record
    expect(made.out.split("\n")[0]).toBe(
      `Made a workspace in ${join(folder, "quillhaven")} from 3 exports: 1 fleet, 1 slot, 3 pipelines; 1 thing is left to confirm.`,
    );
    expect(made.out).toContain("Next: framelife run --workspace quillhaven");
    const { configuration } = readWorkspace(join(folder, "quillhaven"));
    expect(configuration).toMatchObject({
      clock: "hours",
      display: { length: "thou", temperature: "F" },
      fleets: [{ name: "quillhaven", records_begin: "2020-01-01" }],
      pipelines: ["units", "cards", "readings"],
    });
    expect(Object.keys(configuration.slots)).toEqual(["drive_end_bearings"]);
    const ran = await runProgram(folder, "run", "--workspace", "quillhaven");
    expect(ran).toMatchObject({ status: 0, err: "" });
    expect(ran.out).toContain("66 rows in 3 files: 66 became records, 0 are in quarantine");
    expect(ran.out.split("\n")[0]).toMatch(/^Drive-end bearings at quillhaven: 10 % have failed by/);
  });

  it("says what each lack costs, and works without", async () => {
    write({
      "failures.csv": table("Unit,Failed on,Cause", 20, (index) => [
        `U${index % 5}`,
        day(40 * index),
        index % 3 ? "bearing failure" : "PM",
      ]),
    });
    const made = await runProgram(folder, "init", "shop", "--from", "failures.csv");
    for (const says of [
      "Without a list of units, lives of units that never came back are unknown, and every figure speaks of returned units alone.",
      "Without hours, answers count calendar days",
      "Without positions, a bad place and a bad frame can't be told apart.",
      "Without the condition found, a part that was replaced because it had failed can't be told from one replaced because the frame was open.",
      "Without columns per bearing and seal, each rebuild counts for the frame as a whole.",
      "Without card numbers, a card is known by its unit and day",
    ])
      expect(made.out).toContain(says);
    expect(readWorkspace(join(folder, "shop")).configuration.clock).toBe("days");
    const ran = await runProgram(folder, "run", "--workspace", "shop");
    expect(ran).toMatchObject({ status: 0, err: "" });
    expect(ran.out).toContain("20 rows in 1 file: 20 became records");
  });

  it("makes a slot of each component whose word it does not know, and answers by it", async () => {
    const rows = Array.from({ length: 12 }, (_, card) =>
      ["Mech A", "Mech B"].map((component) =>
        [`J${card}`, `F${card % 4}`, day(60 * card), component, component === "Mech A" ? "failed" : "good", "Y"].join(),
      ),
    );
    write({ "long.csv": ["Job no,Frame,Removed,Component,Condition,Replaced", ...rows.flat(), ""].join("\n") });
    const made = await runProgram(folder, "init", "shop", "--from", "long.csv");
    expect(made).toMatchObject({ status: 0, err: "" });
    expect(made.out).toContain("it is taken for a slot of its own, mech_a");
    const { configuration } = readWorkspace(join(folder, "shop"));
    expect(configuration.slots).toMatchObject({
      mech_a: { title: "Mech A", quantity: 1, kind: "other" },
      mech_b: { title: "Mech B" },
    });
    const text = readFileSync(join(folder, "shop/framelife.yaml"), "utf8");
    expect(text).toContain('  # confirm: "Mech A" is a slot only because the exports call a component so');
    await runProgram(folder, "run", "--workspace", "shop");
    // By hand: 12 cards of 4 frames, 3 a frame: a slot lives twice from card to card and once from the last card on,
    // but the latest card of all is of the as-of date, and its life has no length yet
    const basis = async (slot: string) => {
      const ran = await runProgram(folder, "life", "--workspace", "shop", "--slot", slot, "--json");
      const { lives, failed } = JSON.parse(ran.out).basis;
      return { lives, failed };
    };
    expect(await basis("mech_a")).toEqual({ lives: 11, failed: 8 });
    expect(await basis("mech_b")).toEqual({ lives: 11, failed: 0 });
  });

  it("names the columns that it does not use", async () => {
    const more = Array.from({ length: 14 }, (_, index) => `Rack ${"abcdefghijklmn"[index]}`);
    const wide = CARDS.split("\n").map((line, index) =>
      line === "" ? "" : `${line},${index === 0 ? more.join() : more.map(() => "x").join()}`,
    );
    write({ "cards.csv": wide.join("\n"), "units.csv": UNITS });
    const made = await runProgram(folder, "init", "shop", "--from", "cards.csv", "units.csv");
    const first = more.slice(0, 12).map((name) => `"${name}"`);
    expect(made.out).toContain(`\nColumns that are not used:\n  cards: ${first.join(", ")} and 2 more\n\n`);
  });

  it("makes a fleet of each folder that exports come from, though their headers are the same", async () => {
    write({ "saltmere/cards.csv": CARDS, "ostrel/cards.csv": CARDS });
    await runProgram(folder, "init", "shop", "--from", "saltmere/cards.csv", "ostrel/cards.csv");
    const { configuration, pipelines } = readWorkspace(join(folder, "shop"));
    expect(configuration.fleets.map(({ name }) => name)).toEqual(["saltmere", "ostrel"]);
    expect(pipelines.map(({ name, pipeline }) => [name, pipeline.files, pipeline.fields["fleet"]?.value])).toEqual([
      ["saltmere-cards", ["exports/saltmere/cards.csv"], "saltmere"],
      ["ostrel-cards", ["exports/ostrel/cards.csv"], "ostrel"],
    ]);
    expect(readFileSync(join(folder, "shop/exports/ostrel/cards.csv"), "utf8")).toBe(CARDS);
  });

  it("takes fleets from a column, also for exports that say none", async () => {
    const owned = CARDS.replace("Job no", "Owner,Job no").replaceAll("\nJ", "\nFen Drainage,J");
    write({ "cards.csv": owned, "rounds.csv": READINGS });
    await runProgram(folder, "init", "shop", "--from", "cards.csv", "rounds.csv");
    const { configuration, pipelines } = readWorkspace(join(folder, "shop"));
    expect(configuration.fleets).toMatchObject([{ name: "fen-drainage", title: "Fen Drainage" }]);
    expect(pipelines.map(({ pipeline }) => pipeline.fields["fleet"])).toMatchObject([
      { column: "Owner", words: { "Fen Drainage": "fen-drainage" } },
      { value: "fen-drainage" },
    ]);
  });

  it("leaves exports that lie in the workspace where they are, and reads files of one kind by one pipeline", async () => {
    write({ "exports/2022/cards.csv": CARDS, "exports/2022/more.csv": CARDS.replaceAll("\nJ1", "\nJ2") });
    expect(await runProgram(folder, "init", "--from", "exports/2022/cards.csv", "exports/2022/more.csv")).toMatchObject(
      { status: 0, err: "" },
    );
    expect(readWorkspace(folder).pipelines.map(({ pipeline }) => pipeline.files)).toEqual([
      ["exports/2022/cards.csv", "exports/2022/more.csv"],
    ]);
    expect(readdirSync(folder).toSorted()).toEqual(["exports", "framelife.yaml", "pipelines"]);
    expect(readdirSync(join(folder, "exports"))).toEqual(["2022"]);
  });

  it("leaves aside the sheet of a workbook that it does not know, by its name", async () => {
    const rows = CARDS.trim()
      .split("\n")
      .map((line, index) => rowXml(1 + index, line.split(",")))
      .join("");
    const legend = [rowXml(1, ["Sign", "Means"]), rowXml(2, ["Y", "renewed"]), rowXml(3, ["N", "kept"])].join("");
    write({});
    writeFileSync(
      join(folder, "book.xlsx"),
      bookBytes({
        sheets: [
          { name: "Cards", rows },
          { name: "Legend", rows: legend },
        ],
      }),
    );
    const made = await runProgram(folder, "init", "shop", "--from", "book.xlsx");
    expect(made.out).toContain(
      'Left aside:\n  book.xlsx, sheet "Legend": Cannot draft a pipeline for exports/book.xlsx, sheet "Legend": nothing',
    );
  });

  it("leaves aside what it does not know, with the reason", async () => {
    write({ "cards.csv": CARDS, "menu.csv": "Dish,Cook\nSoup,Ann\n" });
    const made = await runProgram(folder, "init", "shop", "--from", "cards.csv", "menu.csv");
    expect(made.out).toContain("Left aside:\n  menu.csv: Cannot draft a pipeline for");
    expect(readdirSync(join(folder, "shop/exports"))).toEqual(["cards.csv"]);
  });

  it.each([
    { what: "a configuration", there: { "shop/framelife.yaml": "mine" }, says: "framelife.yaml is there already" },
    { what: "an export", there: { "shop/exports/cards.csv": "mine" }, says: "exports/cards.csv is there already" },
    {
      what: "a pipeline",
      there: { "shop/pipelines/cards.yaml": "mine" },
      says: "pipelines/cards.yaml is there already",
    },
    { what: "a file in place of a folder", there: { "shop/pipelines": "mine" }, says: "Cannot go on: the system says" },
  ])("writes over nothing and leaves nothing half-made where there is $what", async ({ there, says }) => {
    write({ "cards.csv": CARDS, ...there });
    const ran = await runProgram(folder, "init", "shop", "--from", "cards.csv");
    expect(ran.status).toBe(1);
    expect(ran.err).toContain(says);
    const [path = "", text] = Object.entries(there)[0]!;
    expect(readFileSync(join(folder, path), "utf8")).toBe(text);
    const left = readdirSync(join(folder, "shop"), { recursive: true, withFileTypes: true }).filter((entry) =>
      entry.isFile(),
    );
    expect(left).toHaveLength(1);
  });

  it.each([
    { from: ["gone.csv"], says: "Cannot read gone.csv: there is no such file" },
    { from: ["cards.csv", "gone.csv"], says: "Cannot read gone.csv" },
    { from: ["empty.csv"], says: "the file is empty" },
    { from: ["menu.csv"], says: "nothing in it is known to make a record" },
    { from: ["."], says: "it is a folder; name the files in it" },
  ])("makes nothing from $from", async ({ from, says }) => {
    write({ "cards.csv": CARDS, "empty.csv": "", "menu.csv": "Dish,Cook\nSoup,Ann\n" });
    const ran = await runProgram(folder, "init", "shop", "--from", ...from);
    expect(ran.status).toBe(1);
    expect(ran.err).toContain(says);
    expect(existsSync(join(folder, "shop"))).toBe(false);
    expect(readdirSync(folder).toSorted()).toEqual(["cards.csv", "empty.csv", "menu.csv"]);
  });
});

describe("framelife init --from on a terminal", () => {
  const open = table("Job no,Serial,Removed,Reason,DE brg found,DE brg new", 20, (index) => [
    `J${index}`,
    `F${index % 4}`,
    `0${1 + (index % 9)}/0${1 + (index % 8)}/2023`,
    index % 2 ? "PM" : "as agreed",
    "good",
    "Y",
  ]);

  /** Runs `init` with somebody who answers by what a question is about; gives the questions. */
  async function initAsked(answers: Record<string, string>): Promise<string[]> {
    const asked: string[] = [];
    const around = {
      print() {},
      notice() {},
      setStatus() {},
      folder,
      today: () => "2026-01-15",
      colour: false,
      progress: false,
      ask: async (question: string) => {
        asked.push(question);
        return Object.entries(answers).find(([about]) => question.includes(about))?.[1] ?? "";
      },
    };
    await program(around).parseAsync(["node", "framelife", "init", "shop", "--from", "cards.csv"]);
    return asked;
  }

  it("asks what the evidence leaves open, and drafts by the answers", async () => {
    write({ "cards.csv": open });
    const asked = await initAsked({ "day or the month": "month", "as agreed": "4" });
    expect(asked).toHaveLength(2);
    expect(asked[0]).toBe(
      '1 of 2: no cell of the file tells whether column "Removed" has the day or the month first\n  1 day first, 2 month first [1]: ',
    );
    expect(asked[1]).toContain(
      "1 leave open, 2 failure, 3 planned, 4 opportunity, 5 modification, 6 unknown, 7 nothing recorded [1]: ",
    );
    const { fields } = readWorkspace(join(folder, "shop")).pipelines[0]!.pipeline;
    expect(fields["removed_on"]?.dates).toEqual(["%m/%d/%Y"]);
    expect(fields["reason"]?.words).toEqual({ PM: "planned", "as agreed": "opportunity" });
    const text = readFileSync(join(folder, "shop/pipelines/cards.yaml"), "utf8");
    expect(text).toContain("month first, as answered");
    expect(text).not.toContain("# confirm");
  });

  it("takes its own guess where nothing is answered", async () => {
    write({ "cards.csv": open });
    await initAsked({});
    const { fields } = readWorkspace(join(folder, "shop")).pipelines[0]!.pipeline;
    expect(fields["removed_on"]?.dates).toEqual(["%d/%m/%Y"]);
    expect(fields["reason"]?.words).toEqual({ PM: "planned" });
  });
});
