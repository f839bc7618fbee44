import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bookBytes, rowXml } from "../ingest/export/workbook-bytes.ts";
import { AuditAnswerSchema, TraceAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";

const PIPELINE = (files: string, more: string) => `
title: Meter rounds
record: reading
files: ${files}
${more}
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
  read_on: { column: Read, dates: ["%Y-%m-%d"] }
  hours: { column: Meter }
`;

let folder = "";
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-formats-"));
  // The header of the first sheet stands in row 3, under a title; row 5 has a meter below 0
  const north = [
    rowXml(1, ["Rounds, north"]),
    rowXml(3, ["Frame", "Read", "Meter"]),
    rowXml(4, ["F1", "2020-01-02", 100]),
    rowXml(5, ["F2", "2020-01-02", -7]),
  ];
  const south = [rowXml(1, ["Frame", "Read", "Meter"]), rowXml(2, ["F3", "2020-02-03", 50])];
  const files: Record<string, string | Buffer> = {
    "framelife.yaml": `
title: Quillhaven bearing-frame shop
fleets: [{ name: saltmere, title: Saltmere }]
slots: { drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing } }
pipelines: [book, lines]
quarantine_limit: 1
`,
    "pipelines/book.yaml": PIPELINE("exports/rounds.xlsx", "sheet: [North, South]"),
    "pipelines/lines.yaml": PIPELINE("exports/rounds.ndjson", ""),
    "exports/rounds.xlsx": bookBytes({
      sheets: [
        { name: "North", rows: north.join("") },
        { name: "South", rows: south.join("") },
      ],
    }),
    "exports/rounds.ndjson":
      '{"Frame":"F4","Read":"2020-03-04","Meter":60}\n{"Frame":"F4","Read":"2020-04-05","Meter":"=1+1"}\n',
  };
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
  expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0, err: "" });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function trace(id: string) {
  const ran = await runProgram(folder, "trace", id, "--json");
  expect(ran).toMatchObject({ status: 0, err: "" });
  return TraceAnswerSchema.parse(JSON.parse(ran.out));
}

describe("framelife trace of formats other than CSV", () => {
  it.each([
    { id: "exports/rounds.xlsx#North:4", cell: { column: "Meter", value: "100" }, outcome: "accepted" },
    { id: "exports/rounds.xlsx#North:5", cell: { column: "Meter", value: "-7" }, outcome: "quarantined" },
    { id: "exports/rounds.xlsx#South:2", cell: { column: "Frame", value: "F3" }, outcome: "accepted" },
    { id: "exports/rounds.ndjson:1", cell: { column: "Meter", value: "60" }, outcome: "accepted" },
    { id: "exports/rounds.ndjson:2", cell: { column: "Meter", value: "=1+1" }, outcome: "quarantined" },
  ])("reads $id back as it stood", async ({ id, cell, outcome }) => {
    const { rows } = await trace(id);
    expect(rows[0]?.cells).toContainEqual(cell);
    expect(rows[0]?.ended.outcome).toBe(outcome);
  });

  it("names the row of a title no row of data", async () => {
    expect((await trace("exports/rounds.xlsx#South:2#hours")).answer).toContain("nothing was found of hours");
    const ran = await runProgram(folder, "trace", "exports/rounds.xlsx:2");
    expect(ran).toMatchObject({ status: 1 });
    expect(ran.err).toContain(
      "it can mean exports/rounds.xlsx#North:2, exports/rounds.xlsx#South:2; give one of these",
    );
  });

  it("gives every finding of a workbook an id that leads to it", async () => {
    const audit = AuditAnswerSchema.parse(JSON.parse((await runProgram(folder, "audit", "--json")).out));
    expect(audit.findings.map(({ trace }) => trace)).toEqual([
      "exports/rounds.xlsx#North:5#hours",
      "exports/rounds.ndjson:2#hours",
    ]);
    for (const { trace: id, rule } of audit.findings) {
      const { rows } = await trace(id);
      expect(rows.flatMap(({ ended }) => ended.rules)).toEqual([rule]);
    }
  });

  it("names the workspace in the commands that an answer tells of, where one was named", async () => {
    const elsewhere = dirname(folder);
    for (const command of ["audit", "intervals"]) {
      const ran = await runProgram(elsewhere, "--workspace", folder, command, "--json");
      const told = JSON.parse(ran.out) as { rows?: string | object; gaps?: { rows: string }[] };
      const commands = command === "audit" ? (told.gaps ?? []).map(({ rows }) => rows) : [String(told.rows)];
      expect(commands.length).toBeGreaterThan(0);
      for (const line of commands) expect(line.startsWith(`framelife --workspace ${folder} query --as-of `)).toBe(true);
    }
  });
});
