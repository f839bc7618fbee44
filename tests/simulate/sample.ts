import { join } from "node:path";
import { readScenario } from "../../src/simulate/read-scenario.ts";
import type { Scenario } from "../../src/simulate/scenario.ts";
import { packageFile } from "../../src/workspace/package-file.ts";

export const sampleFolder = packageFile("sample-data");

/** The sample's scenario, with so little work on its truth as can be: the exports don't depend on that. */
export function sampleScenario(): Scenario {
  const scenario = readScenario(join(sampleFolder, "scenario.yaml"));
  return { ...scenario, truth: { lives: 1000, histories: 0, months_after: 0 } };
}

type ScenarioText = Parameters<typeof Scenario.parse>[0];

/** One fleet that only fails, and only by one law: no effect, no planned removal, no retirement, no fault. */
export function bareScenario(changes: { units?: number; shape?: number; scale?: number } = {}): ScenarioText & object {
  const { units = 20, shape = 1.7, scale = 3000 } = changes;
  return {
    title: "One law",
    seed: 1,
    begins: "2010-01-01",
    records_begin: "2010-01-01",
    as_of: "2019-12-31",
    slots: { drive_end_bearings: { shape, scale, modes: { abrasive_wear: 1 } } },
    bench: { end_play_mean: 4.5, end_play_sd: 1, gauge_sd: 0, fitters: 2, fitter_sd: 0, copied: 0, copied_as: 0 },
    fleets: [
      {
        name: "saltmere",
        format: "plain",
        units,
        unit_prefix: "U",
        early_units: 0,
        bought_within_days: 100,
        last_rebuild_known: 0,
        models: [{ name: "BF-60", speed_rpm: 1480, share: 1 }],
        oil_bath: 1,
        lube_matched: 0,
        position_prefix: "P",
        sites: [{ name: "Northgate", surroundings: "clean", positions: units }],
        hours_a_day: { mean: 14, log_sd: 0.2, most: 21 },
        idle: { spells_a_year: 0.5, days: [7, 30] },
        days_to_shop: [0, 2],
        days_in_shop: [1, 5],
        days_to_install: [1, 3],
        retired_a_year: 0,
        meter: { changes: 0, stuck: 0, rollovers: 0 },
      },
    ],
    truth: { lives: 1000, histories: 0 },
  };
}
