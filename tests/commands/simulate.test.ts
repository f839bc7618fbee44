import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { runProgram } from "./run-program.ts";

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe("framelife simulate --rebuilds", () => {
  it("makes a workspace that runs, and not over one that is there", async () => {
    const made = await runProgram(folder, "simulate", "--rebuilds", "400", "--seed", "3", "--out", "many");
    expect(made).toMatchObject({ status: 0, err: "" });
    expect(made.out).toMatch(/Made a workspace of 39\d job cards|Made a workspace of 400 job cards/);
    expect(await runProgram(join(folder, "many"), "ingest")).toMatchObject({ status: 0, err: "" });
    const life = await runProgram(join(folder, "many"), "life", "--slot", "drive_end_bearings");
    expect(life.out).toMatch(/10 % have failed by/);
    const again = await runProgram(folder, "simulate", "--rebuilds", "400", "--seed", "4", "--out", "many");
    expect(again.status).toBe(1);
    expect(again.err).toContain("one is there already; name another folder");
  });

  it.each([
    { options: ["plan.yaml", "--rebuilds", "10"], says: "give one of the two" },
    { options: [], says: "give a scenario's file, or --rebuilds NUMBER" },
    { options: ["plan.yaml", "--fleets", "10"], says: "give it with --rebuilds" },
    {
      options: ["--rebuilds", "1"],
      says: "Cannot make 1 fleet of 1 job card: that leaves fleets without a frame; give --rebuilds 20",
    },
    { options: ["--rebuilds", "50", "--fleets", "9"], says: "give --rebuilds 180 or more, or fewer --fleets" },
    { options: ["--rebuilds", "many"], says: "give a whole number from 1 to 100,000,000" },
  ])("refuses $options", async ({ options, says }) => {
    const ran = await runProgram(folder, "simulate", ...options, "--seed", "1", "--out", "made");
    expect(ran.status).toBe(2);
    expect(ran.err).toContain(says);
    expect(existsSync(join(folder, "made"))).toBe(false);
  });
});
