import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { z } from "zod";
import { Pipeline } from "../../src/workspace/pipeline.ts";
import { parseYaml } from "../../src/workspace/yaml-file.ts";
import { bookBytes, rowXml } from "../ingest/export/workbook-bytes.ts";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const CARDS = `Card,Frame,Removed,Why,DE brg found,Rack colour
1,F1,13/02/2024,failed,bad,red
2,F2,14/02/2024,hours up,good,blue
3,F1,15/02/2024,ask Pete,good,red
`;

const MapAnswerSchema = z.strictObject({
  schema: z.literal(1),
  command: z.literal("map"),
  answer: z.string().min(1),
  guesses: z
    .array(z.strictObject({ field: z.string(), column: z.string(), evidence: z.string().min(1), sure: z.boolean() }))
    .min(1),
  questions: z.array(
    z.strictObject({ id: z.string(), text: z.string().min(1), options: z.array(z.string()), cells: z.number() }),
  ),
  unmatched: z.array(z.string()),
  pipeline: z.string(),
});

describe("framelife map", () => {
  it("prints a draft that begins with the answer and ingests nothing", async () => {
    writeFileSync(join(folder, "cards.csv"), CARDS);
    const ran = await runProgram(folder, "map", "cards.csv");
    expect(ran).toMatchObject({ status: 0, err: "" });
    // By hand: of 6 columns "Rack colour" is not used; open are the fleet, "ask Pete", and what was renewed at the drive end
    expect(ran.out.split("\n")[0]).toBe(
      '# cards.csv holds job cards, one row a card: 5 of its 6 columns are understood, 1 not used ("Rack colour"), 3 rows, and 3 things are left to confirm.',
    );
    expect(ran.out.match(/^\s*# confirm: /gm)).toHaveLength(3);
    expect(parseYaml(ran.out, "draft", Pipeline)).toMatchObject({
      files: ["cards.csv"],
      fields: { removed_on: { dates: ["%d/%m/%Y"] } },
    });
    expect(readdirSync(folder)).toEqual(["cards.csv"]);
  });

  it("gives the same as JSON", async () => {
    writeFileSync(join(folder, "cards.csv"), CARDS);
    const ran = await runProgram(folder, "map", "cards.csv", "--json");
    const answer = MapAnswerSchema.parse(JSON.parse(ran.out));
    expect(answer.unmatched).toEqual(["Rack colour"]);
    expect(answer.guesses.find(({ field }) => field === "card")).toMatchObject({ column: "Card", sure: true });
    expect(answer.guesses.find(({ field }) => field === "reason")).toMatchObject({ column: "Why", sure: false });
    expect(parseYaml(answer.pipeline, "draft", Pipeline).record).toBe("rebuild");
  });

  it("writes the draft where it is told, and over nothing", async () => {
    writeFileSync(join(folder, "cards.csv"), CARDS);
    const first = await runProgram(folder, "map", "cards.csv", "--out", "draft.yaml");
    expect(first.out.split("\n")[0]).toContain('1 not used ("Rack colour")');
    expect(first.out).toContain("The draft is in draft.yaml.\nTo confirm:\n");
    const written = readFileSync(join(folder, "draft.yaml"), "utf8");
    const second = await runProgram(folder, "map", "cards.csv", "--out", "draft.yaml");
    expect(second.status).toBe(1);
    expect(second.err).toContain("draft.yaml: the file is there already");
    expect(readFileSync(join(folder, "draft.yaml"), "utf8")).toBe(written);
  });

  it("names the fleets and slots of the workspace around", async () => {
    writeFileSync(
      join(folder, "framelife.yaml"),
      "title: Quillhaven\nfleets: [{ name: saltmere, title: Saltmere }]\nslots: { pump_end_bearing: { title: Bearing, quantity: 1, kind: bearing } }\npipelines: [cards]\n",
    );
    mkdirSync(join(folder, "exports"));
    writeFileSync(join(folder, "exports/cards.csv"), CARDS.replace("DE brg", "PE brg"));
    const ran = await runProgram(join(folder, "exports"), "map", "cards.csv");
    expect(ran).toMatchObject({ status: 0, err: "" });
    const pipeline = parseYaml(ran.out, "draft", Pipeline);
    expect(pipeline).toMatchObject({ files: ["exports/cards.csv"], fields: { fleet: { value: "saltmere" } } });
    expect(Object.keys(pipeline.slots)).toEqual(["pump_end_bearing"]);
    writeFileSync(join(folder, "exports/others.csv"), CARDS);
    const others = await runProgram(folder, "map", "exports/others.csv");
    expect(Object.keys(parseYaml(others.out, "draft", Pipeline).slots)).toEqual([]);
    expect(others.out).toContain('#   column "DE brg found"');
  });

  it("takes the sheet that is asked for, and asks where a workbook holds several kinds", async () => {
    const cards = [rowXml(1, ["Card", "Frame", "Removed"]), rowXml(2, ["1", "F1", "2024-02-13"])].join("");
    const units = [rowXml(1, ["Frame", "Model", "Commissioned"]), rowXml(2, ["F1", "BF-80", "2015-02-13"])].join("");
    writeFileSync(
      join(folder, "book.xlsx"),
      bookBytes({
        sheets: [
          { name: "Cards", rows: cards },
          { name: "Units", rows: units },
        ],
      }),
    );
    const both = await runProgram(folder, "map", "book.xlsx");
    expect(both.status).toBe(2);
    expect(both.err).toContain('("Cards"; "Units"); choose one with --sheet');
    const one = await runProgram(folder, "map", "book.xlsx", "--sheet", "2");
    expect(parseYaml(one.out, "draft", Pipeline)).toMatchObject({ record: "unit", sheet: ["Units"] });
  });

  it.each([
    { args: ["gone.csv"], says: "Cannot read gone.csv: there is no such file", status: 1 },
    { args: ["empty.csv"], says: "the file is empty", status: 1 },
    { args: ["bare.json"], says: "Cannot draft a pipeline for bare.json: its records have no values", status: 1 },
    {
      args: ["menu.csv"],
      says: "Cannot draft a pipeline for menu.csv: nothing in it is known to make a record",
      status: 1,
    },
    { args: ["menu.csv", "--record", "meal"], says: "Allowed choices are rebuild, reading", status: 2 },
    { args: ["cards.csv", "--name", "My Cards"], says: 'Cannot name a pipeline "My Cards"', status: 2 },
    { args: ["cards.csv", "--record", "stock"], says: 'as "stock" it lacks', status: 1 },
  ])("says what is wrong with $args", async ({ args, says, status }) => {
    writeFileSync(join(folder, "cards.csv"), CARDS);
    writeFileSync(join(folder, "empty.csv"), "");
    writeFileSync(join(folder, "bare.json"), "[{}]");
    writeFileSync(join(folder, "menu.csv"), "Dish,Cook\nSoup,Ann\n");
    const ran = await runProgram(folder, "map", ...args);
    expect(ran).toMatchObject({ status, out: "" });
    expect(ran.err).toContain(says);
    expect(existsSync(join(folder, "store"))).toBe(false);
  });
});
