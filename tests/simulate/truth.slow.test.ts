import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readScenario } from "../../src/simulate/read-scenario.ts";
import { simulate } from "../../src/simulate/simulate.ts";
import { sampleFolder } from "./sample.ts";
import { scratchFolder } from "./scratch-folder.ts";

describe("the sample's truth", () => {
  it("is made again from its scenario and seed, byte for byte", async () => {
    const scenario = readScenario(join(sampleFolder, "scenario.yaml"));
    expect(scenario.truth.lives).toBe(1_000_000);
    const { truthFile } = await simulate(scenario, { seed: scenario.seed, out: scratchFolder() });
    expect(readFileSync(truthFile, "utf8")).toBe(readFileSync(join(sampleFolder, "truth.json"), "utf8"));
  });
});
