import { countQuantile } from "../stats/spares/count-quantile.ts";
import { countsOfDraws } from "../stats/spares/counts-of-draws.ts";
import { stockCurve } from "../stats/spares/stock-curve.ts";
import type { LeadTime, PartStock, SparesPart } from "./spares-answer.ts";
import { DAYS_A_PERIOD, type Demand, taken } from "./spares-demand.ts";
import { longestLead, periodsAhead } from "./spares-lead.ts";
import type { ShelfPart } from "./spares-scope.ts";
import { shortageOf } from "./spares-shortage.ts";
import { addDays } from "./spares-use.ts";

/** A risk under this need not be drawn further. */
const HARDLY_ANY = 0.001;

type Ordering = Pick<
  SparesPart,
  | "position"
  | "noShortage"
  | "fillRate"
  | "readyRate"
  | "reorderPoint"
  | "orderBy"
  | "orderNow"
  | "orderQuantity"
  | "stockOutRisk"
  | "reasons"
>;

export type OrderAsked = {
  demand: Demand;
  stock: PartStock | null;
  lead: LeadTime | null;
  known: ShelfPart | undefined;
  /** Fewest pieces taken at a time. */
  atATime: number;
  service: number;
  reviewDays: number;
  asOf: string;
  draws: number;
  seed: number;
};

/** What to hold of a part, what the stock at hand is good for, and when to order how much. */
export function orderingOf(asked: OrderAsked): Ordering {
  const { demand, stock, lead, service, reviewDays } = asked;
  const none = {
    position: null,
    noShortage: null,
    fillRate: null,
    readyRate: null,
    orderBy: null,
    orderNow: null,
    orderQuantity: null,
  };
  if (lead === null) {
    return {
      ...none,
      reorderPoint: null,
      stockOutRisk: [],
      reasons: ["no lead time is known: give it on the parts list, or --lead-time DAYS"],
    };
  }
  const ahead = periodsAhead(lead, reviewDays, asked);
  const counts = countsOfDraws(taken(demand, 0, ahead));
  const reorderPoint = countQuantile(counts, service);
  const known = { reorderPoint, stockOutRisk: riskCurve(counts, stock) };
  if (stock === null) {
    return { ...none, ...known, reasons: ["no stock is on record: give a stock list, or --stock FILE"] };
  }
  const position = positionBy(stock, addDays(asked.asOf, lead.days));
  const orderNow = position < reorderPoint;
  return {
    ...known,
    position,
    ...shortageOf({ demand, ahead, stock, position, asOf: asked.asOf, atATime: asked.atATime }),
    orderNow,
    orderBy: orderNow ? asked.asOf : orderDay(asked, lead),
    orderQuantity: orderNow ? inPacks(reorderPoint - position, asked.known) : 0,
    reasons: stock.onHand < 0 ? [`the stock list says ${stock.onHand} pieces: count again`] : [],
  };
}

/** On hand, and on its way to arrive by a day; what has no day is taken to come in time. */
function positionBy({ onHand, due }: PartStock, day: string): number {
  return due.reduce((sum, { on, pieces }) => sum + (on === null || on <= day ? pieces : 0), onHand);
}

function riskCurve(counts: Float64Array, stock: PartStock | null): SparesPart["stockOutRisk"] {
  const { risk } = stockCurve(counts);
  const enough = risk.findIndex((chance) => chance < HARDLY_ANY);
  const last = Math.max(enough < 0 ? risk.length - 1 : enough, Math.floor(stock?.onHand ?? 0));
  return Array.from({ length: last + 1 }, (_, held) => ({ stock: held, risk: risk[held] ?? 0 }));
}

/** The last day on which an order, and its longest lead time after it, still keeps the chance of no shortage; null beyond what is looked at. */
function orderDay({ demand, stock, service, asOf, reviewDays }: OrderAsked, lead: LeadTime): string | null {
  const longest = longestLead(lead);
  // What runs short before an order of today could arrive no day of ordering helps.
  for (let period = Math.floor(lead.days / DAYS_A_PERIOD) + 1; period <= demand.periods; period++) {
    const position = positionBy(stock!, addDays(asOf, period * DAYS_A_PERIOD));
    const used = taken(demand, 0, period);
    const kept = used.reduce((draws, pieces) => draws + (pieces <= position ? 1 : 0), 0) / demand.draws;
    if (kept >= service) continue;
    return addDays(asOf, Math.max(reviewDays, (period - 1) * DAYS_A_PERIOD - longest));
  }
  return null;
}

function inPacks(pieces: number, known: ShelfPart | undefined): number {
  const pack = known?.packSize ?? 1;
  const wanted = Math.max(Math.ceil(pieces), known?.minimumOrder ?? 0);
  return pack > 0 ? Math.ceil(wanted / pack - 1e-9) * pack : wanted;
}
