import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { stringify } from "yaml";
import { readScenario } from "../../src/simulate/read-scenario.ts";
import { bareScenario } from "./sample.ts";
import { scratchFolder } from "./scratch-folder.ts";

type Loose = Record<string, unknown>;
function read(change: (scenario: Loose, fleet: Loose) => void): () => unknown {
  const scenario = structuredClone(bareScenario()) as Loose;
  change(scenario, (scenario["fleets"] as Loose[])[0]!);
  const path = join(scratchFolder(), "scenario.yaml");
  writeFileSync(path, stringify(scenario));
  return () => readScenario(path);
}

describe("readScenario()", () => {
  it("takes a scenario that says only what it must", () => {
    expect(read(() => {})()).toMatchObject({ title: "One law", effects: { unit_sd: 0 } });
  });

  it.each([
    {
      name: "dates in the wrong order",
      change: (scenario: Loose) => {
        scenario["as_of"] = "2009-12-31";
      },
      says: /line 5 at "as_of": the dates must stand in the order begins, records_begin, as_of/,
    },
    {
      name: "an effect on a slot that there is not",
      change: (scenario: Loose) => {
        scenario["effects"] = { lube: { slots: ["seal"], life: { oil_bath: 1, grease: 0.7 } } };
      },
      says: /"effects.lube.slots": "seal" can't stand here: there is no such slot; name slots of the kit/,
    },
    {
      name: "an effect of a build on a slot that outlasts builds",
      change: (scenario: Loose) => {
        (scenario["slots"] as Record<string, Loose>)["drive_end_bearings"]!["kit"] = false;
        scenario["effects"] = { lube: { slots: ["drive_end_bearings"], life: { oil_bath: 1, grease: 0.7 } } };
      },
      says: /"drive_end_bearings" can't stand here: it outlasts builds/,
    },
    {
      name: "an offender at a position that there is not",
      change: (_: Loose, fleet: Loose) => {
        fleet["offenders"] = [{ position: "P99", slots: ["drive_end_bearings"], life: 0.3 }];
      },
      says: /there is no position "P99"; they run from P01 to P20/,
    },
    {
      name: "fewer units than positions",
      change: (_: Loose, fleet: Loose) => {
        fleet["units"] = 19;
      },
      says: /19 units can't fill 20 positions; give more units/,
    },
    {
      name: "a range that is turned round",
      change: (_: Loose, fleet: Loose) => {
        fleet["days_in_shop"] = [5, 1];
      },
      says: /a range is written \[low, high\], in days/,
    },
    {
      name: "a stuck meter where nobody reads meters",
      change: (_: Loose, fleet: Loose) => {
        fleet["format"] = "wide_inch";
        fleet["meter"] = { changes: 0, stuck: 1, rollovers: 0 };
      },
      says: /have no meter rounds/,
    },
    {
      name: "a key that is not known",
      change: (scenario: Loose) => {
        scenario["sede"] = 1;
      },
      says: /Unrecognized key: "sede"/,
    },
  ])("refuses $name", ({ change, says }) => {
    expect(read(change)).toThrow(says);
  });
});
