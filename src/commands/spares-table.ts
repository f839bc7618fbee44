import type { SparesAnswer, SparesPart } from "../questions/spares-answer.ts";
import { oddsWords, piecesWords } from "../questions/spares-sentence.ts";
import { inWords } from "../questions/wording.ts";
import type { AnswerTable } from "./print-answer.ts";

/** A `spares` answer as a table: what to order now first; in full for a CSV file. */
export function sparesTable({ parts, horizon, exchange, laws }: SparesAnswer): AnswerTable {
  const ordered = parts.toSorted((one, two) => urgency(one) - urgency(two) || one.part.localeCompare(two.part, "en"));
  return {
    text: {
      headers: [
        ...["part", `used in ${horizon} months`, "on hand", "on order", "hold", "order by", "order", "runs short"],
        "lead time",
      ],
      right: [false, true, true, true, true, false, true, false, false],
      rows: ordered.map((part) => [
        ...[part.part, piecesWords(part.expected), pieces(part.stock?.onHand), pieces(part.stock?.onOrder)],
        ...[pieces(part.reorderPoint), orderBy(part), part.orderNow ? pieces(part.orderQuantity) : ""],
        ...[part.noShortage === null ? "" : oddsWords(1 - part.noShortage), leadWords(part)],
      ]),
    },
    more: [
      {
        title: "Laws that the forecast uses",
        table: {
          headers: ["fleet", "slot", "shape", "scale", "failed", "law of", "renewed when opened"],
          right: [false, false, true, true, true, false, true],
          rows: laws.map(({ fleet, slot, shape, scale, failed, from, renewed }) => [
            ...[fleet, slot.replaceAll("_", " "), inWords(shape), scale === null ? "never" : inWords(scale)],
            ...[String(failed), from, `${Math.round(100 * renewed)} %`],
          ]),
        },
      },
    ],
    ...(exchange !== null && {
      next: `${inWords(exchange.frames)} ready frames keep that chance while others are in the shop for ${inWords(exchange.turnaroundDays)} days in the middle.`,
    }),
    csv: {
      headers: [
        ...[
          "part",
          "title",
          "expected",
          "low",
          "high",
          "on_hand",
          "on_order",
          "reorder_point",
          "order_by",
          "order_now",
        ],
        ...[
          "order_quantity",
          "no_shortage",
          "fill_rate",
          "ready_rate",
          "lead_time_days",
          "price",
          "currency",
          "order_cost",
        ],
      ],
      rows: ordered.map(({ expected, stock, cost, ...part }) => [
        ...[part.part, part.title, expected.estimate, expected.low, expected.high],
        ...[stock?.onHand ?? null, stock?.onOrder ?? null, part.reorderPoint, part.orderBy],
        ...[part.orderNow === null ? null : String(part.orderNow), part.orderQuantity],
        ...[part.noShortage, part.fillRate, part.readyRate, part.leadTime?.days ?? null],
        ...[cost?.price ?? null, cost?.currency ?? null, cost?.order ?? null],
      ]),
    },
  };
}

/** What is shortest first; what nothing can be said of last. */
function urgency({ orderNow, noShortage }: SparesPart): number {
  if (orderNow === null) return 2;
  return orderNow ? (noShortage ?? 0) : 1;
}

function pieces(number: number | null | undefined): string {
  return number === null || number === undefined ? "" : inWords(number);
}

function orderBy({ orderNow, orderBy: day, reorderPoint }: SparesPart): string {
  if (orderNow === null) return reorderPoint === null ? "" : "no stock known";
  if (orderNow) return "now";
  return day ?? "not in sight";
}

function leadWords({ leadTime }: SparesPart): string {
  if (leadTime === null) return "not known";
  const { days, low, high } = leadTime;
  return `${inWords(days)} d${low === null || high === null ? "" : ` (${inWords(low)} to ${inWords(high)})`}`;
}
