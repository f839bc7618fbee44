import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { fitWeibull } from "../stats/weibull/fit.ts";
import { columns } from "../store/columns.ts";
import { windowIn } from "../workspace/lengths.ts";
import type { TrialPlan } from "../workspace/protocol.ts";
import { type GroupOfLives, groupLives, intervalsOf } from "./group-lives.ts";
import { rowsCommand } from "./rows-command.ts";
import { type Scope, type Source, sourceWarnings } from "./scope.ts";
import type { TrialPlanAnswer } from "./trial-answer.ts";
import { planSentence, planWarnings } from "./trial-plan-words.ts";
import { type FleetNow, lookFailures, looksOf, trialFailures, trialNeed } from "./trial-sizes.ts";

/** A target of the end play as it was asked for, in the workspace's unit. */
export type AskedArm = { name: string; low: number; high: number };

/** What `trial plan` is asked. */
export type TrialQuestion = Scope & {
  name: string;
  arms: [AskedArm, AskedArm];
  ratio: number;
  power: number;
  looks: number;
  blockSizes: number[];
  seed: number;
};

/** Ratios that are told beside the one that is asked for. */
const OTHERS = [1.25, 1.5, 2];
const DAYS_A_MONTH = 365.25 / 12;
/** The rate of rebuilds is that of so many days to the as-of date: common practice, no source. */
const RECENT_DAYS = 730;

/** What a trial of two targets of the end play takes, by the fleet's own lives in days; and what its protocol is to say. */
export async function askTrialPlan(
  connection: DuckDBConnection,
  asked: TrialQuestion,
  source: Extract<Source, { kind: "workspace" }>,
): Promise<{ answer: TrialPlanAnswer; plan: TrialPlan | null }> {
  const window = windowOf(source);
  refuseArms(asked.arms, window);
  const { configuration, asOf } = source;
  const slot = asked.slot ?? slotOf(configuration.slots);
  const question = { ...asked, slot, by: [] };
  const [group] = await groupLives(connection, question, { by: [], modes: false, apart: false });
  const recent = await recentBuilds(connection, { asOf, slot, fleet: asked.fleet });
  const now = group === undefined ? { reason: "there are no lives" } : fleetNow(group, recent.perMonth);
  const known = "reason" in now ? null : now;
  const plan = known === null ? null : planOf(question, window, known, { ...recent, configuration });
  const needs =
    known === null
      ? []
      : [...new Set([asked.ratio, ...OTHERS])].sort((a, b) => a - b).map((ratio) => trialNeed(ratio, known, asked));
  const answer: TrialPlanAnswer = {
    schema: 1,
    command: "trial plan",
    answer: "",
    asOf,
    clock: "days",
    level: asked.level,
    basis: group?.basis ?? { lives: 0, failed: 0, suspended: 0, running: 0, unknown: 0, leftOut: {} },
    warnings: [],
    rows: rowsCommand("life", question, source),
    name: asked.name,
    protocol: null,
    did: null,
    kept: null,
    rebuildsPerMonth: known?.rebuildsPerMonth ?? null,
    shape: known?.shape ?? null,
    scale: known?.scale ?? null,
    needs,
    looks:
      plan === null
        ? []
        : looksOf(plan.looks, plan.failures, plan.level).map(({ failures, p, reason }) => ({
            failures,
            p,
            ...(reason !== undefined && { reason }),
          })),
  };
  const need = needs.find(({ ratio }) => ratio === asked.ratio) ?? null;
  answer.answer = planSentence(question, need, "reason" in now ? now.reason : null, source);
  answer.warnings = [...sourceWarnings(source), ...planWarnings(answer, need)];
  return { answer, plan };
}

type Window = TrialPlan["window"] & { unit: TrialPlan["unit"] };

function windowOf({ configuration: { windows, display } }: Extract<Source, { kind: "workspace" }>): Window {
  const own = windows.end_play;
  if (own === undefined) {
    throw new UserError(
      "Cannot plan a trial: framelife.yaml has no window of end play, outside which nothing may be built; put the maker's under windows: end_play:",
    );
  }
  return { ...windowIn(own, display.length), source: own.source, unit: display.length };
}

function refuseArms([first, second]: [AskedArm, AskedArm], { low, high, unit, source }: Window): void {
  const outside = [first, second].find((arm) => arm.low < low || arm.high > high);
  if (outside !== undefined) {
    throw new UserError(
      `Cannot plan a trial: ${outside.name} (${outside.low} to ${outside.high}) goes outside the window, ${low} to ${high} ${unit} (${source}); choose a band inside it`,
      2,
    );
  }
  if (first.low < second.high && second.low < first.high) {
    throw new UserError(
      `Cannot plan a trial: ${first.name} (${first.low} to ${first.high}) and ${second.name} (${second.low} to ${second.high}) overlap; choose bands apart`,
      2,
    );
  }
}

function slotOf(slots: Record<string, { kind: string }>): string {
  const [slot] = Object.entries(slots).find(([, { kind }]) => kind === "bearing") ?? Object.entries(slots)[0]!;
  return slot;
}

/** How the lives on record go, in months; or why that can't be told. */
function fleetNow(group: GroupOfLives, perMonth: number): FleetNow | { reason: string } {
  const fit = fitWeibull(intervalsOf(group));
  if (!fit.converged) return { reason: fit.reason };
  if (!(perMonth > 0)) return { reason: `no rebuild is on record in the ${RECENT_DAYS} days to the as-of date` };
  const { low, entry, count, basis } = group;
  const exposure = low.reduce((sum, end, life) => sum + (count?.[life] ?? 1) * (end - (entry?.[life] ?? 0)), 0);
  const removed = basis.suspended + basis.unknown;
  return {
    shape: fit.shape,
    scale: fit.scale / DAYS_A_MONTH,
    rebuildsPerMonth: perMonth,
    removedAfter: removed === 0 ? null : exposure / removed / DAYS_A_MONTH,
  };
}

type Recent = { perMonth: number; strata: string[] };

/** Builds a month of late, and the fleets and models that they were of. */
async function recentBuilds(
  connection: DuckDBConnection,
  { asOf, slot, fleet }: { asOf: string; slot: string; fleet: string | undefined },
): Promise<Recent> {
  const values = { as_of: asOf, slot, fleet: fleet ?? null, days: RECENT_DAYS };
  const builds = `from studied where slot = $slot and ($fleet::varchar is null or fleet = $fleet::varchar) and start_on between $as_of::date - $days::integer and $as_of::date`;
  const { stratum, builds: number } = await columns(
    connection,
    `select fleet || ', ' || coalesce(nullif(trim(model), ''), 'model not recorded') as stratum, count(*)::integer as builds ${builds} group by all order by 1`,
    { stratum: "text", builds: "integer" },
    values,
  );
  const { days } = await columns(
    connection,
    "select coalesce(least(date_diff('day', min(start_on), $as_of::date), $days::integer), 0)::integer as days from studied where slot = $slot and ($fleet::varchar is null or fleet = $fleet::varchar)",
    { days: "integer" },
    values,
  );
  const all = number.reduce((sum, some) => sum + some, 0);
  return { perMonth: days[0]! > 0 ? (all / days[0]!) * DAYS_A_MONTH : 0, strata: stratum };
}

function planOf(
  { arms, slot, fleet, ratio, level, power, looks, blockSizes, seed }: TrialQuestion & { slot: string },
  { unit, ...window }: Window,
  { shape }: FleetNow,
  { strata, configuration }: Recent & { configuration: { fleets: { name: string }[] } },
): TrialPlan {
  const failures = trialFailures(ratio, shape, { level, power, looks });
  return {
    unit,
    window,
    arms,
    slot,
    fleets: fleet === undefined ? configuration.fleets.map(({ name }) => name) : [fleet],
    ratio,
    level,
    power,
    shape: Number(shape.toPrecision(4)),
    failures,
    looks: lookFailures(failures, looks),
    strata,
    block_sizes: blockSizes,
    seed,
  };
}
