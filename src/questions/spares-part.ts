import { countQuantile } from "../stats/spares/count-quantile.ts";
import { countsOfDraws } from "../stats/spares/counts-of-draws.ts";
import type { Costs } from "../workspace/stock-policy.ts";
import type { LeadTime, PartStock, SparesPart } from "./spares-answer.ts";
import { PERIODS_A_MONTH, taken } from "./spares-demand.ts";
import { type Forecast, partDemand } from "./spares-forecast.ts";
import type { KitPart } from "./spares-kits.ts";
import { periodsAhead } from "./spares-lead.ts";
import { orderingOf } from "./spares-order.ts";
import type { Policy } from "./spares-policy.ts";
import type { Due, ShelfList, ShelfPart, SparesQuestion } from "./spares-scope.ts";
import { countsAs } from "./spares-shelf.ts";
import { useByMonth, useEstimate, useQuantiles } from "./spares-use.ts";

export type PartAsked = {
  forecast: Forecast;
  shelf: ShelfList;
  lead: LeadTime | null;
  policy: Policy;
  question: SparesQuestion;
  asOf: string;
  costs: Costs | undefined;
};

/** How one part stands: its use, what to hold, when to order. */
export function sparesPart(part: KitPart, asked: PartAsked): SparesPart {
  const { forecast, shelf, lead, policy, question, asOf, costs } = asked;
  const { apart } = forecast;
  const demand = partDemand(forecast, part);
  const horizon = question.horizon * PERIODS_A_MONTH;
  const used = taken(demand, 0, horizon);
  const known = shelf.parts.get(part.part);
  const stock = stockOf(part.part, shelf, new Set(forecast.kits.parts.map(({ part: taken }) => taken)));
  const expected = useEstimate(used, question.level);
  const { draws, seed, level } = question;
  const aYear = ((expected.estimate ?? 0) * 12) / question.horizon;
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
    apart: apart > 1 && lead !== null ? apartOf(part, asked, lead) : null,
    slowMover: aYear <= SLOW,
    cost: costOf(known, expected, ordering.orderQuantity),
    worthHolding: aYear <= SLOW ? worthHolding({ aYear, price: known?.price ?? null, lead, costs }) : null,
  };
}

/** Stock that all fleets need together where each keeps its own. */
function apartOf(part: KitPart, { forecast, policy, question }: PartAsked, lead: LeadTime): number {
  const ahead = periodsAhead(lead, policy.review_days, question);
  let sum = 0;
  for (let fleet = 0; fleet < forecast.apart; fleet++) {
    sum += countQuantile(countsOfDraws(taken(partDemand(forecast, part, fleet), 0, ahead)), policy.service);
  }
  return sum;
}

/** Used so often a year or less, a part is held for safety, not for use. */
const SLOW = 1;

/** A year without one on the shelf, which costs days of waiting at each use, against holding one; null where a cost is not known. */
function worthHolding(of: {
  aYear: number;
  price: number | null;
  lead: LeadTime | null;
  costs: Costs | undefined;
}): SparesPart["worthHolding"] {
  const { aYear, price, lead, costs } = of;
  if (price === null || lead === null || costs?.downtime_a_day === undefined) return null;
  const without = aYear * lead.days * costs.downtime_a_day;
  const holding = price * costs.holding;
  return { without, holding, worth: without > holding };
}

/** What is held of a part, and of those that it takes the place of. */
function stockOf(part: string, { from, parts }: ShelfList, taken: Set<string>): PartStock | null {
  const own = [...parts].filter(([name]) => countsAs(name, parts, taken) === part).map(([, known]) => known);
  const counted = own.filter(({ onHand }) => onHand !== null);
  if (counted.length === 0) return null;
  const due = counted.flatMap(dueOf).toSorted((one, two) => (one.on ?? "").localeCompare(two.on ?? ""));
  return {
    onHand: counted.reduce((sum, { onHand }) => sum + onHand!, 0),
    onOrder: counted.reduce((sum, { onOrder }) => sum + (onOrder ?? 0), 0),
    dueOn: due.flatMap(({ on }) => on ?? [])[0] ?? null,
    due,
    countedOn: counted.flatMap(({ countedOn }) => countedOn ?? []).toSorted()[0] ?? null,
    from,
  };
}

function dueOf({ onOrder, dueOn, due }: ShelfPart): Due[] {
  return due ?? (onOrder === null || onOrder === 0 ? [] : [{ on: dueOn, pieces: onOrder }]);
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
