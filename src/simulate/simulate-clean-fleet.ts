import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { stringify } from "yaml";
import { plainPipelines } from "./formats/plain-pipelines.ts";
import { Scenario } from "./scenario.ts";
import { simulate } from "./simulate.ts";
import type { UseAfter } from "./use-after.ts";
import { weibullLife } from "./weibull-life.ts";

/** The one fleet of a clean workspace. */
const CLEAN_FLEET = "clean";

const FIRST_YEAR = 2010;

/** What is true of a clean fleet: one Weibull law per slot, in running hours. */
export type CleanFleet = {
  seed: number;
  units: number;
  years: number;
  slots: Record<string, { shape: number; scale: number }>;
  /** Folder that becomes the workspace. */
  out: string;
  /** Running hours after which frames are taken out unfailed; 0.6 of the shortest scale, with a wide spread, if not given. */
  plannedAfterHours?: { mean: number; sd: number };
  /** Share of the units that are retired in a year. */
  retiredAYear?: number;
  /** Months after the last day whose use is told; none if not given. */
  monthsAfter?: number;
};

/** The workspace, and the closed-form truth of each slot: t_p = scale (-ln(1 - p))^(1 / shape). */
export type CleanFleetReport = {
  workspace: string;
  fleet: typeof CLEAN_FLEET;
  asOf: string;
  cards: number;
  truth: Record<string, { l10Hours: number; medianHours: number }>;
  useAfter: UseAfter | null;
};

/**
 * Makes a whole workspace (configuration, pipelines, exports) of one fleet with clean records: no planted effect, no spread between
 * units, every start and every meter known to the tenth of an hour, some frames taken out unfailed and some retired.
 * All slots are renewed at each opening, so that competing slots suspend each other's lives.
 */
export async function simulateCleanFleet(plan: CleanFleet): Promise<CleanFleetReport> {
  const scenario = cleanScenario(plan);
  const { cards, files, truth: told } = await simulate(scenario, { seed: plan.seed, out: plan.out });
  await writeWorkspace(plan, scenario, new Set(files.map(({ path }) => path)));
  const truth = Object.entries(plan.slots).map(([slot, { shape, scale }]) => {
    const life = (p: number) => weibullLife(1 - p, shape, scale);
    return [slot, { l10Hours: life(0.1), medianHours: life(0.5) }] as const;
  });
  return {
    ...{ workspace: plan.out, fleet: CLEAN_FLEET, asOf: scenario.as_of, cards },
    truth: Object.fromEntries(truth),
    useAfter: told.fleets[0]!.use_after,
  };
}

function cleanScenario({
  seed,
  units,
  years,
  slots,
  plannedAfterHours,
  retiredAYear = 0.01,
  monthsAfter = 0,
}: CleanFleet): Scenario {
  const shortest = Math.min(...Object.values(slots).map(({ scale }) => scale));
  const begins = `${FIRST_YEAR}-01-01`;
  return Scenario.parse({
    title: "A fleet with clean records",
    seed,
    begins,
    records_begin: begins,
    as_of: `${FIRST_YEAR + years - 1}-12-31`,
    slots: Object.fromEntries(
      Object.entries(slots).map(([slot, law]) => [slot, { ...law, kit: true, modes: { not_classifiable: 1 } }]),
    ),
    bench: { end_play_mean: 4.5, end_play_sd: 1, gauge_sd: 0, fitters: 1, fitter_sd: 0, copied: 0, copied_as: 0 },
    fleets: [
      {
        name: CLEAN_FLEET,
        format: "plain",
        units,
        unit_prefix: "U",
        early_units: 0,
        bought_within_days: Math.round((365 * years) / 4),
        last_rebuild_known: 0,
        models: [{ name: "BF", speed_rpm: 1480, share: 1 }],
        oil_bath: 1,
        lube_matched: 0,
        position_prefix: "P",
        sites: [{ name: "Site", surroundings: "clean", positions: units }],
        hours_a_day: { mean: 14, log_sd: 0.2, most: 22 },
        idle: { spells_a_year: 0, days: [0, 0] },
        // Back at work the day after: a unit is watched on every day but those.
        days_to_shop: [0, 0],
        days_in_shop: [0, 0],
        days_to_install: [1, 1],
        planned_after_hours: plannedAfterHours ?? { mean: 0.6 * shortest, sd: 0.25 * shortest },
        retired_a_year: retiredAYear,
        meter: { changes: 0, stuck: 0, rollovers: 0 },
      },
    ],
    truth: { lives: 1000, histories: 0, months_after: monthsAfter },
  });
}

async function writeWorkspace(
  { out, slots }: CleanFleet,
  { title, as_of, records_begin }: Scenario,
  written: Set<string>,
): Promise<void> {
  const all = Object.entries(plainPipelines(CLEAN_FLEET, Object.keys(slots)));
  const pipelines = Object.fromEntries(all.filter(([, { files }]) => written.has(files)));
  const configuration = {
    title,
    as_of,
    fleets: [{ name: CLEAN_FLEET, title, records_begin }],
    slots: Object.fromEntries(Object.keys(slots).map((slot) => [slot, { title: slot, quantity: 1, kind: "other" }])),
    pipelines: Object.keys(pipelines),
  };
  await mkdir(join(out, "pipelines"), { recursive: true });
  await writeFile(join(out, "framelife.yaml"), stringify(configuration));
  for (const [name, pipeline] of Object.entries(pipelines)) {
    await writeFile(join(out, "pipelines", `${name}.yaml`), stringify(pipeline));
  }
}
