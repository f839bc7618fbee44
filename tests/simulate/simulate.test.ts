import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { Scenario } from "../../src/simulate/scenario.ts";
import { simulate } from "../../src/simulate/simulate.ts";
import { bareScenario, sampleFolder, sampleScenario } from "./sample.ts";
import { scratchFolder } from "./scratch-folder.ts";

/** Path to content of every file below a folder. */
function contents(folder: string): Map<string, Buffer> {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  const paths = entries.map((entry) => join(entry.parentPath, entry.name)).sort();
  return new Map(paths.map((path) => [relative(folder, path), readFileSync(path)]));
}

const zone = process.env["TZ"];
afterEach(() => {
  process.env["TZ"] = zone;
});

describe("simulate()", () => {
  it("makes the exports of the sample again from its scenario and seed, byte for byte", async () => {
    const scenario = sampleScenario();
    const out = scratchFolder();
    await simulate(scenario, { seed: scenario.seed, out });
    const [made, kept] = [contents(join(out, "exports")), contents(join(sampleFolder, "exports"))];
    expect(kept.size).toBe(19);
    expect([...made.keys()]).toEqual([...kept.keys()]);
    for (const [path, bytes] of kept) expect(made.get(path)?.equals(bytes), path).toBe(true);
  });

  it("gives the same bytes for the same seed whatever the time zone, and others for another seed", async () => {
    const scenario = Scenario.parse(bareScenario());
    const make = async (seed: number, tz: string, offset: number) => {
      process.env["TZ"] = tz;
      expect(new Date(2024, 0, 1).getTimezoneOffset()).toBe(offset);
      const out = scratchFolder();
      await simulate(scenario, { seed, out });
      return contents(out);
    };
    const [east, west, other] = [
      await make(1, "Pacific/Kiritimati", -840),
      await make(1, "America/Adak", 600),
      await make(2, "America/Adak", 600),
    ];
    expect(east.size).toBeGreaterThan(3);
    expect(west).toEqual(east);
    expect(other).not.toEqual(east);
  });

  it("makes the same exports whether or not the use after the last day is asked for, and tells it beside the same truth", async () => {
    const make = async (months_after: number) => {
      const out = scratchFolder();
      const scenario = Scenario.parse(bareScenario());
      const { truth } = await simulate({ ...scenario, truth: { ...scenario.truth, months_after } }, { seed: 1, out });
      const files = contents(join(out, "exports"));
      return { files, fleet: truth.fleets[0]! };
    };
    const [without, within] = [await make(0), await make(12)];
    expect(without.files.size).toBeGreaterThan(1);
    expect(within.files).toEqual(without.files);
    expect(without.fleet.use_after).toBeNull();
    expect(within.fleet.use_after?.opened).toHaveLength(12);
    expect({ ...within.fleet, use_after: null }).toEqual(without.fleet);
  });

  it("reports what it made: about 120 units and 900 cards or more in the sample", async () => {
    const scenario = sampleScenario();
    const report = await simulate(scenario, { seed: scenario.seed, out: scratchFolder() });
    expect(report.units).toBeGreaterThanOrEqual(115);
    expect(report.units).toBeLessThanOrEqual(125);
    expect(report.cards).toBeGreaterThanOrEqual(900);
    expect(report.cards).toBe(report.truth.fleets.reduce((sum, { rebuilds }) => sum + rebuilds, 0));
  });

  it("says what to change when more meter faults are asked for than there are units to bear them", async () => {
    const scenario = Scenario.parse(bareScenario({ units: 3 }));
    scenario.fleets[0]!.meter.changes = 4;
    await expect(simulate(scenario, { seed: 1, out: scratchFolder() })).rejects.toThrow(
      'Cannot plant the meter faults of fleet "saltmere": too few of its 3 units are long enough in service; ask for fewer under meter',
    );
  });
});
