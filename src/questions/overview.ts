import type { DuckDBConnection } from "@duckdb/node-api";
import { readyLives } from "../lives/kept-lives.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { buildStudy } from "./build-study.ts";
import type { CompareAnswer } from "./compare-answer.ts";
import { derivedOrNone } from "./derived-or-none.ts";
import { lifeCompared } from "./life-compared.ts";
import { askOffendersByFleet } from "./offenders.ts";
import type { OffendersAnswer } from "./offenders-answer.ts";
import type { FleetsCompared } from "./overview-types.ts";
import { type LifeQuestion, plainLifeQuestion, REPORT_SEED, type Source } from "./scope.ts";
import { askSpares } from "./spares.ts";
import type { SparesAnswer } from "./spares-answer.ts";
import type { SparesQuestion } from "./spares-scope.ts";

export type OverviewOptions = {
  asOf?: string;
  level: number;
  /** The workspace's folder where the command named one. */
  folder?: string;
};

/** What everything in a report is asked with. */
export type OverviewAsked = { source: Extract<Source, { kind: "workspace" }>; level: number };

/**
 * Makes a connection ready for every question of a report; it holds `life`, `installation`, `known_unit`, `studied`, `observed`, `exposed` and
 * `built` then. Works on a read-only store.
 * @returns null where no record has a date
 */
export async function readyOverview(
  connection: DuckDBConnection,
  configuration: Configuration,
  { asOf, level, folder }: OverviewOptions,
): Promise<OverviewAsked | null> {
  const request = { configuration, units: true, built: true, ...(asOf !== undefined && { asOf }) };
  const derived = await derivedOrNone(connection, request, readyLives);
  if (derived === null) return null;
  for (const step of ["40_studied", "41_observed", "43_exposed"]) {
    await runStep(connection, `${step}_${configuration.clock}`);
  }
  return { source: { kind: "workspace", configuration, ...derived, ...(folder !== undefined && { folder }) }, level };
}

/** Who comes back too often in each fleet, by its name; fleets of few lean on the others. */
export function overviewOffenders(
  connection: DuckDBConnection,
  kind: "unit" | "position",
  { source, level }: OverviewAsked,
): Promise<Map<string, OffendersAnswer>> {
  const { clock } = source.configuration;
  return askOffendersByFleet(connection, { by: [], clock, level, seed: REPORT_SEED, kind }, source);
}

/** How builds of all fleets together last; nothing where there is one fleet. */
export async function overviewBuilds(
  connection: DuckDBConnection,
  { source, level }: OverviewAsked,
): Promise<CompareAnswer[]> {
  const { clock, fleets } = source.configuration;
  return fleets.length < 2 ? [] : buildStudy(connection, { by: [], clock, level }, source);
}

/** What will be used: one shelf for all fleets, a year ahead; planned ages where the workspace says what rebuilds cost. */
export async function overviewSpares(
  connection: DuckDBConnection,
  { source, level }: OverviewAsked,
): Promise<SparesAnswer> {
  const { clock, costs } = source.configuration;
  const question: SparesQuestion = { clock, level, horizon: 12, draws: 2000, seed: REPORT_SEED };
  const answer = await askSpares(connection, { ...question, ...(costs !== undefined && { replace: "own" }) }, source);
  await runStep(connection, "65_forecast_made");
  return answer;
}

/** Lives of all fleets side by side, but for the ratios of their L10. */
export function overviewCompared(
  connection: DuckDBConnection,
  { source, level }: OverviewAsked,
): Promise<FleetsCompared> {
  return lifeCompared(connection, overviewLives(source, level), source);
}

/** What is asked of the lives of each fleet. */
export function overviewLives({ configuration }: OverviewAsked["source"], level: number): LifeQuestion {
  const { clock, fleets, slots, bearings } = configuration;
  return {
    ...plainLifeQuestion({ by: [], clock, level }),
    mission: [AHEAD[clock]],
    modes: true,
    rating: Object.keys(bearings).length > 0,
    pool: fleets.length > 1,
    checks: fleets.length * Object.keys(slots).length <= MOST_CHECKED,
  };
}

/** Of more groups nobody reads how well the law fits each. */
const MOST_CHECKED = 50;

/** How much further running units are looked at on pages, by the clock: half a year of running without pause, half a year. */
const AHEAD = { hours: 4000, days: 180 } as const;
