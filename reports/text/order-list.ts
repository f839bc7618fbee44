import type { SparesPart } from "../../src/questions/spares-answer.ts";
import { byUrgency } from "../../src/questions/spares-urgency.ts";
import { exactly } from "../../src/questions/wording.ts";
import type { TableCell } from "../../src/report/csv-table.ts";
import { orderByWords, orderedWords, shortageWords, weeksWords, whyOrder } from "./spares-words.ts";

/** What to order: on the page, and as files beside it. */
export type OrderList = {
  columns: { title: string; figures: boolean }[];
  rows: TableCell[][];
  /** What is ordered now in sum; not there where nothing is. */
  sum: TableCell[] | null;
};

/** All parts, what runs short soonest first, with what to order now and its cost. */
export function orderList(parts: SparesPart[]): OrderList {
  const ordered = byUrgency(parts);
  const currencies = new Set(parts.flatMap(({ cost }) => (cost === null ? [] : [cost.currency])));
  const [one] = currencies;
  const inOne = currencies.size === 1;
  const titles = [
    ...["Part", "Name", "Order", "On hand", "On order", "Hold", "Order by", "Lead time (weeks)", "Runs short"],
    ...[inOne && one != null ? `Cost (${one})` : "Cost", "Why"],
  ];
  const now = ordered.filter(({ orderNow }) => orderNow);
  return {
    columns: titles.map((title, at) => ({ title, figures: FIGURES.has(at) })),
    rows: ordered.map((part) => rowOf(part, inOne)),
    sum: now.length === 0 ? null : ["To order now", orderedWords(now), ...BETWEEN, totals(now, inOne), ""],
  };
}

const FIGURES = new Set([2, 3, 4, 5, 7, 8, 9]);
const BETWEEN = Array.from({ length: 7 }, () => "");

function rowOf(part: SparesPart, inOne: boolean): TableCell[] {
  const { stock, reorderPoint, orderNow, orderQuantity, leadTime } = part;
  return [
    ...[part.part, part.title, orderNow ? orderQuantity : null, stock?.onHand ?? null, stock?.onOrder ?? null],
    ...[reorderPoint, orderByWords(part), leadTime === null ? null : weeksWords(leadTime), shortageWords(part)],
    ...[orderNow ? costOf(part, inOne) : null, whyOrder(part)],
  ];
}

function costOf({ cost }: SparesPart, inOne: boolean): TableCell {
  if (cost === null) return null;
  return inOne ? cost.order : money(cost.order, cost.currency);
}

/** What all orders cost; of several currencies each by itself. */
function totals(now: SparesPart[], inOne: boolean): TableCell {
  const sums = new Map<string | null, number>();
  for (const { cost } of now) {
    if (cost !== null) sums.set(cost.currency, (sums.get(cost.currency) ?? 0) + cost.order);
  }
  if (sums.size === 0) return null;
  if (inOne) return [...sums.values()][0]!;
  return [...sums].map(([currency, sum]) => money(sum, currency)).join("; ");
}

function money(amount: number, currency: string | null): string {
  return `${exactly(amount)}${currency === null ? "" : ` ${currency}`}`;
}
