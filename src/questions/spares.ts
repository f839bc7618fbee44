import type { DuckDBConnection } from "@duckdb/node-api";
import { countQuantile } from "../stats/spares/count-quantile.ts";
import { countsOfDraws } from "../stats/spares/counts-of-draws.ts";
import { readyUnitsNeeded } from "../stats/spares/ready-units-needed.ts";
import { type Openings, simulateOpenings } from "../stats/spares/simulate-openings.ts";
import { columns } from "../store/columns.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { framelife } from "./rows-command.ts";
import { type Source, sourceWarnings } from "./scope.ts";
import type { LeadTime, PartStock, SparesAnswer, SparesPart } from "./spares-answer.ts";
import { DAYS_A_MONTH, demandOf, openingsOf, PERIODS_A_MONTH, taken } from "./spares-demand.ts";
import { openingFleet, type ServingFleet, servingFleet } from "./spares-fleet.ts";
import { type KitPart, type Kits, kitsOf } from "./spares-kits.ts";
import { type FleetLaws, fleetLaws } from "./spares-laws.ts";
import { leadTimeOf, longestLead, periodsAhead } from "./spares-lead.ts";
import { orderingOf } from "./spares-order.ts";
import type { ShelfList, ShelfPart, SparesQuestion } from "./spares-scope.ts";
import { sparesSentence } from "./spares-sentence.ts";
import { recordedShelf } from "./spares-shelf.ts";
import { useByMonth, useEstimate, useQuantiles } from "./spares-use.ts";
import { sparesWarnings } from "./spares-warnings.ts";

/** Over so many fleets each keeps no account of its own: a stock apart for each would be nobody's. */
const MOST_APART = 12;
/** Months that a simulation may look ahead. */
const MOST_MONTHS = 240;

/** What the units in service will use, what to hold and when to order. The connection holds `studied`, `life`, `installation` and `as_of`. */
export async function askSpares(
  connection: DuckDBConnection,
  question: SparesQuestion,
  source: Extract<Source, { kind: "workspace" }>,
): Promise<SparesAnswer> {
  const { configuration, asOf } = source;
  const slots = Object.keys(configuration.slots);
  const serving = await servingFleet(connection, { ...question, slots });
  const kits = await kitsOf(connection, configuration, serving.units);
  const shelf = question.stock ?? (await recordedShelf(connection));
  const policy = policyOf(question, configuration);
  const leads = kits.parts.map(({ part }) =>
    leadTimeOf(shelf.parts.get(part), { option: question.leadTime, workspace: policy.lead_time_days }),
  );
  const fleets = [...new Set(serving.units.map(({ fleet }) => fleet))];
  const laws = await fleetLaws(connection, { ...question, fleets, slots });
  const openings = simulated(question, {
    serving,
    kits,
    laws,
    fleets,
    slots,
    months: monthsAhead(question, leads, policy),
  });
  const answer: SparesAnswer = {
    schema: 1,
    command: "spares",
    answer: "",
    asOf,
    clock: question.clock,
    level: question.level,
    basis: { units: serving.units.length, lives: laws.lives, failed: laws.failed, leftOut: {} },
    warnings: [],
    rows: `${framelife("query", source.folder)} --as-of ${asOf} "select * from life where status = 'running'${question.fleet === undefined ? "" : ` and fleet = '${question.fleet}'`}"`,
    horizon: question.horizon,
    service: policy.service,
    reviewDays: policy.review_days,
    draws: question.draws,
    seed: question.seed,
    openings: useEstimate(taken(openingsOf(openings), 0, question.horizon * PERIODS_A_MONTH), question.level),
    exchange: null,
    parts: kits.parts.map((part, at) =>
      partOf(part, {
        openings,
        kits,
        fleets,
        shelf,
        lead: leads[at]!,
        policy,
        question,
        asOf,
        costs: configuration.costs,
      }),
    ),
    laws: laws.told,
    backtest: null,
    replace: null,
  };
  if (serving.units.length === 0) answer.parts = [];
  answer.exchange = await exchangeOf(connection, answer, question.fleet);
  answer.answer = sparesSentence(answer);
  answer.warnings = [...sourceWarnings(source), ...sparesWarnings(answer, serving, kits)];
  return answer;
}

type Policy = { service: number; review_days: number; lead_time_days?: number | undefined };

function policyOf({ service }: SparesQuestion, { stock_policy: policy }: Configuration): Policy {
  return { ...policy, ...(service !== undefined && { service }) };
}

function monthsAhead({ horizon }: SparesQuestion, leads: (LeadTime | null)[], { review_days: review }: Policy): number {
  const longest = leads.reduce((days, lead) => Math.max(days, lead === null ? 0 : longestLead(lead)), 0);
  return Math.min(MOST_MONTHS, horizon + Math.ceil((longest + review) / DAYS_A_MONTH));
}

type Simulated = {
  serving: ServingFleet;
  kits: Kits;
  laws: FleetLaws;
  fleets: string[];
  slots: string[];
  months: number;
};

function simulated(
  { draws, seed }: SparesQuestion,
  { serving, kits, laws, fleets, slots, months }: Simulated,
): Openings {
  const apart = fleets.length <= MOST_APART ? fleets.length : 1;
  const countedIn = Int32Array.from(
    serving.units,
    (unit) => kits.kindOf(unit) * apart + (apart === 1 ? 0 : fleets.indexOf(unit.fleet)),
  );
  const fleet = openingFleet(serving, { fleets, slots: slots.length, countedIn });
  const periods = months * PERIODS_A_MONTH;
  const { laws: slotLaws } = laws;
  // The simulation counts in periods of a quarter of a month: rates and months are told to it so.
  return simulateOpenings({ ...fleet, rate: fleet.rate.map((rate) => rate / PERIODS_A_MONTH) }, slotLaws, {
    months: periods,
    draws,
    seed,
  });
}

type PartAsked = {
  openings: Openings;
  kits: Kits;
  fleets: string[];
  shelf: ShelfList;
  lead: LeadTime | null;
  policy: Policy;
  question: SparesQuestion;
  asOf: string;
  costs: Configuration["costs"];
};

function partOf(part: KitPart, asked: PartAsked): SparesPart {
  const { openings, kits, fleets, shelf, lead, policy, question, asOf } = asked;
  const apart = fleets.length <= MOST_APART ? fleets.length : 1;
  const demand = demandOf(openings, part, { kinds: kits.kinds, fleets: apart });
  const horizon = question.horizon * PERIODS_A_MONTH;
  const used = taken(demand, 0, horizon);
  const known = shelf.parts.get(part.part);
  const stock = stockOf(part.part, shelf);
  const expected = useEstimate(used, question.level);
  const { draws, seed, level } = question;
  const ordering = orderingOf({
    ...{ demand, stock, lead, known, service: policy.service, reviewDays: policy.review_days, asOf, draws, seed },
    atATime: Math.min(...part.goesInto.map(({ quantity }) => quantity)),
  });
  return {
    part: part.part,
    title: known?.title ?? null,
    goesInto: part.goesInto,
    expected,
    byMonth: useByMonth(demand, { asOf, horizon: question.horizon, level }),
    quantiles: useQuantiles(used),
    past: null,
    stock,
    leadTime: lead,
    ...ordering,
    apart: apart > 1 && lead !== null ? apartOf(part, asked, lead, apart) : null,
    slowMover: ((expected.estimate ?? 0) * 12) / question.horizon <= 1,
    cost: costOf(known, expected, ordering.orderQuantity),
    worthHolding: null,
  };
}

/** Stock that all fleets need together where each keeps its own. */
function apartOf(
  part: KitPart,
  { openings, kits, policy, question }: PartAsked,
  lead: LeadTime,
  fleets: number,
): number {
  const ahead = periodsAhead(lead, policy.review_days, question);
  let sum = 0;
  for (let fleet = 0; fleet < fleets; fleet++) {
    const demand = demandOf(openings, part, { kinds: kits.kinds, fleets, fleet });
    sum += countQuantile(countsOfDraws(taken(demand, 0, ahead)), policy.service);
  }
  return sum;
}

/** What is held of a part, and of those that it takes the place of. */
function stockOf(part: string, { from, parts }: ShelfList): PartStock | null {
  const own = [...parts]
    .filter(([name, { replacedBy }]) => name === part || replacedBy === part)
    .map(([, known]) => known);
  const counted = own.filter(({ onHand }) => onHand !== null);
  if (counted.length === 0) return null;
  const day = (of: (known: ShelfPart) => string | null) =>
    counted.flatMap((known) => of(known) ?? []).toSorted()[0] ?? null;
  return {
    onHand: counted.reduce((sum, { onHand }) => sum + onHand!, 0),
    onOrder: counted.reduce((sum, { onOrder }) => sum + (onOrder ?? 0), 0),
    dueOn: day(({ dueOn }) => dueOn),
    countedOn: day(({ countedOn }) => countedOn),
    from,
  };
}

function costOf(
  known: ShelfPart | undefined,
  { estimate, low, high }: SparesPart["expected"],
  order: number | null,
): SparesPart["cost"] {
  if (known?.price == null) return null;
  const { price, currency } = known;
  const times = (pieces: number | null) => (pieces === null ? null : pieces * price);
  return {
    price,
    currency,
    use: { estimate: times(estimate), low: times(low), high: times(high) },
    order: (order ?? 0) * price,
  };
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
