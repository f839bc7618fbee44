import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { CompareAnswer } from "../../src/questions/compare-answer.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { CompareAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
  cpSync(packageFile("sample-data"), folder, { recursive: true });
  expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0 });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

async function compared(...args: string[]): Promise<CompareAnswer> {
  const ran = await runProgram(folder, "compare", ...args, "--straight", "--adjust", "none", "--json");
  expect(ran.err).toBe("");
  return CompareAnswerSchema.parse(JSON.parse(ran.out)) as CompareAnswer;
}

describe("compare takes the gauge's standard deviation", () => {
  it("from the workspace in the unit that is shown, with its source; the option goes before it; of end play alone", async () => {
    const file = join(folder, "framelife.yaml");
    const own = readFileSync(file, "utf8");
    // by hand: 0.00762 mm = 0.3 thou
    writeFileSync(file, own.replace(/end_play: \{ sd: .*/, 'end_play: { sd: 0.00762, unit: mm, source: "a study" }'));
    const fromWorkspace = await compared("end_play");
    expect(fromWorkspace.gauge).toMatchObject({ sd: 0.3, source: "a study" });
    expect(fromWorkspace.warnings.join()).toContain("the gauge's error (standard deviation 0.3: a study) hides");
    const byOption = await compared("end_play", "--gauge-sd", "0.3");
    expect(byOption.gauge).toEqual({ ...fromWorkspace.gauge, source: null });
    expect((await compared("ring_temperature")).gauge).toBe(null);
    writeFileSync(file, own.replace(/gauges:\n.*\n/, ""));
    expect((await compared("end_play")).gauge).toBe(null);
    writeFileSync(file, own);
  });

  it("names the unit of every effect that has one, and none of a year", async () => {
    const unit = async (effect: string) => (await compared(effect)).contrast;
    expect(await unit("shims")).toMatchObject({ unit: "thou" });
    expect(await unit("ring_temperature")).toMatchObject({ unit: "F" });
    expect(await unit("speed")).toMatchObject({ unit: "rpm" });
    expect(await unit("built_year")).toMatchObject({ unit: null });
    const { answer } = await compared("ring_temperature", "--contrast", "208,216.25");
    expect(answer).toContain("at ring temperature 208 F last");
    expect(answer).toContain("as long as at 216 F");
  });
});
