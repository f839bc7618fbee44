import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runProgram } from "../commands/run-program.ts";
import { zipBytes } from "../ingest/export/zip-bytes.ts";
import { ALIASES, CONFIGURATION, CORRECTIONS_CSV, CORRECTIONS_YAML, SAMPLES } from "./sample-files.ts";
import { put } from "./try-case.ts";

let root = "";
beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), "framelife-samples-"));
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

describe("what is spoilt at random", () => {
  it.each(Object.entries(SAMPLES))("reads well as it is: %s", async (name, sample) => {
    const folder = join(root, name);
    put(folder, {
      "framelife.yaml": CONFIGURATION,
      "pipelines/export.yaml": sample.pipeline,
      [`exports/${sample.file}`]: "parts" in sample ? zipBytes(sample.parts) : sample.text,
    });
    const { status, out, err } = await runProgram(folder, "ingest", "--json");
    expect(err).toBe("");
    expect(status).toBe(0);
    const [file] = (JSON.parse(out) as { files: { accepted: number; corrected: number }[] }).files;
    expect((file?.accepted ?? 0) + (file?.corrected ?? 0)).toBe(14);
  });

  it.each([
    { name: "aliases.csv", text: ALIASES },
    { name: "corrections.csv", text: CORRECTIONS_CSV },
    { name: "corrections.yaml", text: CORRECTIONS_YAML },
  ])("is taken as it is: $name", async ({ name, text }) => {
    const folder = join(root, name);
    const { csv } = SAMPLES;
    put(folder, {
      "framelife.yaml": CONFIGURATION,
      "pipelines/export.yaml": csv.pipeline,
      [`exports/${csv.file}`]: "text" in csv ? csv.text : "",
      [name]: text,
    });
    const { status, err } = await runProgram(folder, "ingest");
    expect({ status, err }).toEqual({ status: 0, err: "" });
  });
});
