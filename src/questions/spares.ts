import type { DuckDBConnection } from "@duckdb/node-api";
import { readyUnitsNeeded } from "../stats/spares/ready-units-needed.ts";
import { columns } from "../store/columns.ts";
import { rowsCommand } from "./rows-command.ts";
import { type Source, sourceWarnings } from "./scope.ts";
import type { SparesAnswer } from "./spares-answer.ts";
import { DAYS_A_MONTH, openingsOf, PERIODS_A_MONTH, taken } from "./spares-demand.ts";
import { readFleet, simulateFleet } from "./spares-forecast.ts";
import { leadTimeOf } from "./spares-lead.ts";
import { sparesPart } from "./spares-part.ts";
import { monthsAhead, policyOf } from "./spares-policy.ts";
import type { SparesQuestion } from "./spares-scope.ts";
import { sparesSentence } from "./spares-sentence.ts";
import { recordedShelf } from "./spares-shelf.ts";
import { useEstimate } from "./spares-use.ts";
import { sparesWarnings } from "./spares-warnings.ts";

/** Where no unit or no life is on record, a forecast would be one of nothing. */
const NOTHING_KNOWN: Pick<SparesAnswer, "parts" | "laws" | "openings"> = {
  parts: [],
  laws: [],
  openings: { estimate: null, low: null, high: null, reason: "no unit in service with a life on record" },
};

/** What the units in service will use, what to hold and when to order. The connection holds `studied`, `life`, `installation` and `as_of`. */
export async function askSpares(
  connection: DuckDBConnection,
  question: SparesQuestion,
  source: Extract<Source, { kind: "workspace" }>,
): Promise<SparesAnswer> {
  const { configuration, asOf } = source;
  const reading = await readFleet(connection, question, configuration);
  const { serving, kits } = reading;
  const shelf = question.stock ?? (await recordedShelf(connection));
  const policy = policyOf(question, configuration);
  const leads = kits.parts.map(({ part }) =>
    leadTimeOf(shelf.parts.get(part), { option: question.leadTime, workspace: policy.lead_time_days }),
  );
  const forecast = simulateFleet(reading, { ...question, months: monthsAhead(question, leads, policy) });
  const { laws, openings } = forecast;
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
    openings: useEstimate(taken(openingsOf(openings), 0, question.horizon * PERIODS_A_MONTH), question.level),
    exchange: null,
    parts: kits.parts.map((part, at) =>
      sparesPart(part, { forecast, shelf, lead: leads[at]!, policy, question, asOf }),
    ),
    laws: laws.told,
    backtest: null,
    replace: null,
  };
  if (serving.units.length === 0 || laws.lives === 0) Object.assign(answer, NOTHING_KNOWN);
  answer.exchange = await exchangeOf(connection, answer, question.fleet);
  answer.answer = sparesSentence(answer);
  answer.warnings = [...sourceWarnings(source), ...sparesWarnings(answer, serving, kits)];
  return answer;
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
