import { cpSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { SparesAnswerSchema } from "../questions/answer-schema.ts";
import { runProgram } from "./run-program.ts";

let folder = "";

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
  cpSync(fileURLToPath(new URL("../reference/valve-seats", import.meta.url)), folder, { recursive: true });
  expect(await runProgram(folder, "ingest")).toMatchObject({ status: 0, err: "" });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe("spares --backtest", () => {
  it("says at once where records are too short for it, and gives the forecast all the same", async () => {
    const { out, err, status } = await runProgram(folder, "spares", "--backtest", "--draws", "100");
    expect({ err, status }).toEqual({ err: "", status: 0 });
    expect(out).toMatch(
      /^No past forecast can be held against what was used: records from .* are too short, two years/,
    );
    expect(out).toContain("The forecast from now on");
  });

  it("stands in the JSON, and is null where it was not asked for", async () => {
    const answerOf = async (...args: string[]) =>
      SparesAnswerSchema.parse(
        JSON.parse((await runProgram(folder, "spares", "--json", "--draws", "100", ...args)).out),
      );
    expect((await answerOf()).backtest).toBeNull();
    const { backtest, parts } = await answerOf("--backtest");
    expect(backtest).toMatchObject({ origins: [], openings: null, months: 12, step: 3 });
    expect(parts).not.toEqual([]);
  });

  it("writes a CSV file of its own", async () => {
    await runProgram(folder, "spares", "--backtest", "--draws", "100", "--csv", "past.csv");
    expect(readFileSync(join(folder, "past.csv"), "utf8")).toMatch(/^part,title,forecast_by,years,used_a_year,/);
  });
});
