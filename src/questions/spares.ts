import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { readyUnitsNeeded } from "../stats/spares/ready-units-needed.ts";
import { columns } from "../store/columns.ts";
import type { Costs } from "../workspace/stock-policy.ts";
import { rowsCommand } from "./rows-command.ts";
import { type Source, sourceWarnings } from "./scope.ts";
import type { SparesAnswer, WhatIf } from "./spares-answer.ts";
import type { ReplaceCosts } from "./spares-costs.ts";
import { DAYS_A_MONTH } from "./spares-demand.ts";
import { type FleetReading, readFleet } from "./spares-forecast.ts";
import { disagree, pastUse } from "./spares-past.ts";
import { policyOf } from "./spares-policy.ts";
import { plannedAges } from "./spares-replace.ts";
import type { SparesQuestion } from "./spares-scope.ts";
import { sparesSentence } from "./spares-sentence.ts";
import { laidOver, recordedShelf } from "./spares-shelf.ts";
import { type Standing, type StandingAsked, standingOf } from "./spares-standing.ts";
import { sparesWarnings } from "./spares-warnings.ts";
import { type ChangedReading, changedReading } from "./spares-what-if.ts";
import { count, inFull } from "./wording.ts";

/** Where no unit or no life is on record, a forecast would be one of nothing. */
const NOTHING_KNOWN: Standing = {
  openings: { estimate: null, low: null, high: null, reason: "no frame in service with a life on record" },
  parts: [],
};

/** Where laws from a few short lives would open frames without end, as in the first weeks of records. */
const TOO_SHORT: Standing = {
  openings: { ...NOTHING_KNOWN.openings, reason: "lives on record are too few or too short" },
  parts: [],
};

/** What the units in service will use, what to hold and when to order. The connection holds `studied`, `life`, `installation` and `as_of`. */
export async function askSpares(
  connection: DuckDBConnection,
  question: SparesQuestion,
  source: Extract<Source, { kind: "workspace" }>,
): Promise<SparesAnswer> {
  const { configuration, asOf } = source;
  const costs = costsOf(question, configuration.costs);
  const reading = await readFleet(connection, question, configuration);
  const { serving, kits, laws } = reading;
  const shelf = laidOver(await recordedShelf(connection), question.stock);
  const policy = policyOf(question, configuration);
  const asked: StandingAsked = { question, asOf, shelf, policy, costs: configuration.costs };
  const known = serving.units.length > 0 && laws.lives > 0;
  const standing = known ? standingOf(reading, asked) : null;
  const now = standing ?? (known ? TOO_SHORT : NOTHING_KNOWN);
  const answer: SparesAnswer = {
    schema: 1,
    command: "spares",
    answer: "",
    asOf,
    clock: question.clock,
    level: question.level,
    basis: { units: serving.units.length, lives: laws.lives, failed: laws.failed, leftOut: {} },
    warnings: [],
    rows: rowsCommand(
      "life",
      { ...(question.fleet !== undefined && { fleet: question.fleet }), where: "status = 'running'" },
      source,
    ),
    horizon: question.horizon,
    service: policy.service,
    reviewDays: policy.review_days,
    draws: question.draws,
    seed: question.seed,
    ...now,
    exchange: null,
    laws: laws.told,
    backtest: null,
    replace: costs === null || standing === null ? null : plannedAges(reading, costs, question.level),
    whatIf: null,
  };
  if (standing === null)
    return { ...answer, laws: [], answer: sparesSentence(answer), warnings: sourceWarnings(source) };
  await addPast(connection, answer, reading, { question, source });
  answer.exchange = await exchangeOf(connection, answer, question.fleet);
  if (question.whatIf !== undefined) {
    const changed = await changedReading(connection, reading, question.whatIf, { question, source });
    const then = standingOf(changed.reading, { ...asked, lead: question.whatIf.lead_time_days });
    if (then === null) {
      throw new UserError(
        "Cannot run the frames on so: some would be opened a thousand times within the horizon; look at duty and planned_age",
      );
    }
    answer.whatIf = whatIfOf(changed, then);
  }
  answer.answer = sparesSentence(answer);
  answer.warnings = [
    ...sourceWarnings(source),
    ...(await unmeteredWarnings(connection, question)),
    ...sparesWarnings(answer, serving, { kits, shelf, fleet: question.fleet }),
  ];
  return answer;
}

function costsOf({ replace }: SparesQuestion, costs: Costs | undefined): ReplaceCosts | null {
  if (replace !== "own") return replace ?? null;
  if (costs === undefined) {
    throw new UserError(
      "Cannot weigh planned ages: framelife.yaml names no costs; give costs: there, or --costs PLANNED,UNPLANNED",
    );
  }
  const { planned_rebuild: planned, unplanned_rebuild: unplanned, currency, source } = costs;
  return { planned, unplanned, currency, source };
}

function whatIfOf({ changes, warnings }: ChangedReading, { openings, parts }: Standing): WhatIf {
  return {
    changes,
    warnings,
    openings,
    parts: parts.map(({ part, expected, reorderPoint, orderNow, orderQuantity }) => ({
      ...{ part, expected, reorderPoint, orderNow, orderQuantity },
    })),
  };
}

async function addPast(
  connection: DuckDBConnection,
  answer: SparesAnswer,
  { kits, slots }: FleetReading,
  { question, source }: { question: SparesQuestion; source: Extract<Source, { kind: "workspace" }> },
): Promise<void> {
  const { fleet, horizon, level } = question;
  const past = await pastUse(connection, {
    ...{ slots, kits, horizon, level, asOf: source.asOf },
    ...(fleet !== undefined && { fleet }),
    begins: await recordsBegin(connection, fleet),
  });
  for (const [at, part] of answer.parts.entries()) {
    const own = past?.[at];
    if (own !== undefined) part.past = { ...own, disagrees: disagree(part.expected, own.forecast) };
  }
}

/** A share of running components without hours from which laws lean on those that failed. */
const MANY_UNMETERED = 0.2;

/** A card has the meter of a frame that failed; those that run have theirs from rounds alone. Without, what fails is counted and what lasts is not. */
async function unmeteredWarnings(
  connection: DuckDBConnection,
  { clock, fleet }: Pick<SparesQuestion, "clock" | "fleet">,
): Promise<string[]> {
  if (clock !== "hours") return [];
  const { running, without } = await columns(
    connection,
    `select count(*)::integer as running, (count(*) filter (left_out in ('no_meter', 'no_meter_at_start', 'rate_unknown')))::integer as without
     from studied where status = 'running' and ($fleet is null or fleet = $fleet)`,
    { running: "integer", without: "integer" },
    { fleet: fleet ?? null },
  );
  const [all, lacking] = [running[0]!, without[0]!];
  return lacking <= MANY_UNMETERED * all
    ? []
    : [
        `the hours of ${inFull(lacking)} of ${count(all, "component")} that run are not known, for want of meter readings: the laws lean on those that failed, and more is expected than will come; see what --clock days says`,
      ];
}

/** The first day of which a card tells. */
async function recordsBegin(connection: DuckDBConnection, fleet: string | undefined): Promise<string> {
  const { day } = await columns(
    connection,
    `select coalesce(min(coalesce(built_on, installed_on)), (select as_of from as_of))::varchar as day
     from records.rebuild where $fleet is null or fleet = $fleet`,
    { day: "text" },
    { fleet: fleet ?? null },
  );
  return day[0]!;
}

/** Ready frames that keep the chance asked for while others are in the shop; null where cards don't say how long that takes. */
async function exchangeOf(
  connection: DuckDBConnection,
  { openings, horizon, service }: SparesAnswer,
  fleet: string | undefined,
): Promise<SparesAnswer["exchange"]> {
  const { days } = await columns(
    connection,
    `select coalesce(median(built_on - removed_on), 'nan'::double)::double as days from records.rebuild, as_of
     where built_on >= removed_on and built_on <= as_of and ($fleet is null or fleet = $fleet)`,
    { days: "number" },
    { fleet: fleet ?? null },
  );
  const turnaroundDays = days[0]!;
  if (Number.isNaN(turnaroundDays) || openings.estimate === null) return null;
  const openingsAMonth = openings.estimate / horizon;
  const pool = { rate: openingsAMonth, turnaround: turnaroundDays / DAYS_A_MONTH, service };
  return { turnaroundDays, openingsAMonth, frames: readyUnitsNeeded(pool) };
}
