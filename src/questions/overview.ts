import type { DuckDBConnection } from "@duckdb/node-api";
import { deriveBuilt } from "../lives/derive-built.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { buildStudy } from "./build-study.ts";
import { derivedOrNone } from "./derived-or-none.ts";
import { fleetOverview } from "./fleet-overview.ts";
import { answerGroups, lifeAnswer } from "./life.ts";
import { askOffendersByFleet } from "./offenders.ts";
import type { FleetOverview, Overview } from "./overview-types.ts";
import { askRegister } from "./register.ts";
import { type LifeQuestion, plainLifeQuestion, REPORT_SEED, type Source } from "./scope.ts";
import { askSpares } from "./spares.ts";
import type { SparesQuestion } from "./spares-scope.ts";

export type OverviewOptions = {
  asOf?: string;
  level: number;
  /** The workspace's folder where the command named one. */
  folder?: string;
  onStep?: (done: number, total: number, what: string) => void;
};

/** Every question asked of every fleet: what the report's pages are made of. Works on a read-only store. */
export async function askOverview(
  connection: DuckDBConnection,
  configuration: Configuration,
  options: OverviewOptions,
): Promise<Overview> {
  const derived = await derivedOrNone(connection, {
    configuration,
    ...(options.asOf === undefined ? {} : { asOf: options.asOf }),
  });
  if (derived === null)
    return { title: configuration.title, asOf: null, level: options.level, seed: REPORT_SEED, ...NOTHING };
  const { asOf, latestOn } = derived;
  const { clock } = configuration;
  await runStep(connection, `40_studied_${clock}`);
  await runStep(connection, `41_observed_${clock}`);
  await runStep(connection, `43_exposed_${clock}`);
  await deriveBuilt(connection, configuration);
  const { folder } = options;
  const source: Source = { kind: "workspace", configuration, asOf, latestOn, ...(folder !== undefined && { folder }) };
  const fleets: FleetOverview[] = [];
  const everywhere: LifeQuestion = {
    ...plainLifeQuestion({ by: [], clock, level: options.level }),
    mission: [AHEAD[clock]],
    modes: true,
    rating: Object.keys(configuration.bearings).length > 0,
    pool: configuration.fleets.length > 1,
    checks: true,
  };
  options.onStep?.(0, configuration.fleets.length, "lives");
  const answered = await answerGroups(connection, everywhere, source);
  const life = lifeAnswer(answered, everywhere, source);
  const asked = { by: [], clock, level: options.level, seed: REPORT_SEED };
  const frames = await askOffendersByFleet(connection, { ...asked, kind: "unit" }, source);
  const places = await askOffendersByFleet(connection, { ...asked, kind: "position" }, source);
  for (const [index, fleet] of configuration.fleets.entries()) {
    options.onStep?.(index, configuration.fleets.length, fleet.title);
    const { name } = fleet;
    fleets.push(
      await fleetOverview(connection, fleet, {
        source,
        clock,
        level: options.level,
        life: lifeAnswer(
          answered.filter(({ group }) => group.by["fleet"] === name),
          { ...everywhere, fleet: name, pool: false },
          source,
        ),
        offenders: { unit: frames.get(name)!, position: places.get(name)! },
      }),
    );
  }
  options.onStep?.(configuration.fleets.length, configuration.fleets.length, "what will be used");
  const spares = await askSpares(connection, sparesQuestion(configuration, options.level), source);
  options.onStep?.(configuration.fleets.length, configuration.fleets.length, "");
  return {
    title: configuration.title,
    asOf,
    level: options.level,
    seed: REPORT_SEED,
    fleets,
    builds: fleets.length < 2 ? [] : await buildStudy(connection, { by: [], clock, level: options.level }, source),
    spares,
    register: await askRegister(connection),
    compared: life,
  };
}

const NOTHING = { fleets: [], builds: [], spares: null, register: new Map() };

/** One shelf for all fleets, a year ahead; planned ages where the workspace says what rebuilds cost. */
function sparesQuestion({ clock, costs }: Configuration, level: number): SparesQuestion {
  return { clock, level, horizon: 12, draws: 2000, seed: REPORT_SEED, ...(costs !== undefined && { replace: "own" }) };
}

/** How much further running units are looked at on pages, by the clock: half a year of running without pause, half a year. */
const AHEAD = { hours: 4000, days: 180 } as const;
