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

type Part = { part: string; [key: string]: unknown };

/** The shop's lists, of one part, or of it and others. */
function parts(...list: Partial<Part>[]): Loose {
  const [first = {}, ...others] = list;
  const lead_days = { usual: 30, shortest: 20, longest: 50 };
  const part = { part: "QB-31 pair", title: "Pair", slot: "drive_end_bearings", lead_days, ...first };
  return {
    ...{ folder: "quillhaven", currency: "EUR", counted_on: ["2019-06-28"] },
    list: [part, ...others.map((other) => ({ title: "Another", ...other }))],
  };
}

describe("readScenario()", () => {
  it("takes a scenario that says only what it must", () => {
    expect(read(() => {})()).toMatchObject({ title: "One law", effects: { unit_sd: 0 } });
  });

  it("takes the shop's lists, where all that they name is there", () => {
    const list = [{ stock: { Store: [{ on_hand: 3 }] } }, { part: "QB-30 pair", replaced_by: "QB-31 pair" }];
    const taken = read((scenario) => {
      scenario["parts"] = parts(...list);
    });
    expect(taken()).toMatchObject({ parts: { list } });
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
      name: "a lead time out of order",
      change: (scenario: Loose) => {
        scenario["parts"] = parts({ lead_days: { usual: 10, shortest: 20, longest: 50 } });
      },
      says: /"parts.list.0.lead_days": a lead time stands in the order shortest, usual, longest/,
    },
    {
      name: "a part that stands twice",
      change: (scenario: Loose) => {
        scenario["parts"] = parts({}, { part: "QB-31 pair" });
      },
      says: /"parts.list.1.part": part "QB-31 pair" stands twice/,
    },
    {
      name: "a part that an unlisted one replaces",
      change: (scenario: Loose) => {
        scenario["parts"] = parts({}, { part: "QB-30 pair", replaced_by: "QB-32 pair" });
      },
      says: /"parts.list.1.replaced_by": there is no part "QB-32 pair" on the list; add it/,
    },
    {
      name: "more counts of a part than days of counting",
      change: (scenario: Loose) => {
        scenario["parts"] = parts({ stock: { Store: [{ on_hand: 3 }, { on_hand: 2 }] } });
      },
      says: /"parts.list.0.stock": Store has 2 counts where the days of 1 are named/,
    },
    {
      name: "a part for a slot that there is not",
      change: (scenario: Loose) => {
        scenario["parts"] = parts({ slot: "sleeve" });
      },
      says: /"parts.list.0.slot": there is no slot "sleeve"/,
    },
    {
      name: "a count after the last day",
      change: (scenario: Loose) => {
        scenario["parts"] = { ...parts(), counted_on: ["2020-01-01"] };
      },
      says: /"parts.counted_on.0": 2020-01-01 is after as_of, 2019-12-31/,
    },
    {
      name: "lists in the folder of a fleet",
      change: (scenario: Loose) => {
        scenario["parts"] = { ...parts(), folder: "saltmere" };
      },
      says: /"parts.folder": "saltmere" holds a fleet's exports; name another folder/,
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
