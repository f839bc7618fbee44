import type { Clock } from "../questions/answer.ts";
import { shareWords } from "../questions/bench-sentence.ts";
import type { PlannedAge, SparesAnswer, SparesPart } from "../questions/spares-answer.ts";
import { oddsWords, piecesWords } from "../questions/spares-sentence.ts";
import { byUrgency } from "../questions/spares-urgency.ts";
import { allOf, count, exactly, inWords, unitOf } from "../questions/wording.ts";
import type { AnswerTable, TextTable } from "./print-answer.ts";
import { shortly } from "./shortly.ts";

/** A `spares` answer as a table: what to order now first; in full for a CSV file. */
export function sparesTable(answer: SparesAnswer): AnswerTable {
  const { parts, horizon, exchange } = answer;
  const ordered = byUrgency(parts);
  return {
    text: {
      headers: [
        ...[
          "part",
          `used in ${count(horizon, "month")}`,
          "on hand",
          "on order",
          "hold",
          "order by",
          "order",
          "runs short",
        ],
        "lead time",
      ],
      right: [false, true, true, true, true, false, true, false, false],
      rows: ordered.map((part) => [
        ...[part.part, piecesWords(part.expected), pieces(part.stock?.onHand), pieces(part.stock?.onOrder)],
        ...[pieces(part.reorderPoint), orderBy(part), part.orderNow ? pieces(part.orderQuantity) : ""],
        ...[part.noShortage === null ? "" : oddsWords(1 - part.noShortage), leadWords(part)],
      ]),
    },
    more: [...whatIfTable(answer), ...replaceTable(answer), ...slowTable(answer), ...lawTable(answer)],
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

type More = { title: string; table: TextTable }[];

function lawTable({ laws }: SparesAnswer): More {
  if (laws.length === 0) return [];
  return [
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
  ];
}

function whatIfTable({ whatIf, parts, horizon, openings }: SparesAnswer): More {
  if (whatIf === null) return [];
  return [
    {
      title: `Were it otherwise: ${whatIf.changes.join("; ")}`,
      table: {
        headers: ["", `used in ${count(horizon, "month")} now`, "then", "hold now", "then", "order now", "then"],
        right: [false, true, true, true, true, true, true],
        rows: [
          ["frames opened", piecesWords(openings), piecesWords(whatIf.openings), "", "", "", ""],
          ...whatIf.parts.map((then, at) => [
            ...[then.part, piecesWords(parts[at]!.expected), piecesWords(then.expected)],
            ...[pieces(parts[at]!.reorderPoint), pieces(then.reorderPoint)],
            ...[pieces(parts[at]!.orderQuantity), pieces(then.orderQuantity)],
          ]),
        ],
      },
    },
  ];
}

function replaceTable({ replace, clock }: SparesAnswer): More {
  if (replace === null) return [];
  const { costs, rows } = replace;
  const money = costs.currency === null ? "" : ` ${costs.currency}`;
  return [
    {
      title: `Rebuild at a planned age? A planned one costs ${exactly(costs.planned)}${money}, one after a failure ${exactly(costs.unplanned)}${money} (${costs.source})`,
      table: {
        headers: ["fleet", "slot", "shape", "says", "at", "saves", "a year"],
        right: [false, false, true, false, true, true, true],
        rows: rows.map((row) => replaceRow(row, clock)),
      },
    },
  ];
}

function replaceRow({ fleet, slot, shape, worth, reason = "", ...found }: PlannedAge, clock: Clock): string[] {
  const own = [
    fleet,
    slot === "frame" ? "whole frame" : slot.replaceAll("_", " "),
    shape === null ? "" : inWords(shape),
  ];
  if (!worth || found.age === null) return [...own, `don't: ${reason}`, "", "", ""];
  const { age, saving, aYear } = found;
  return [...own, "plan it", `${inWords(age)}${unitOf(clock)}`, shareWords(saving!), shortly(aYear!)];
}

function slowTable({ parts, horizon }: SparesAnswer): More {
  const slow = parts.filter(({ slowMover }) => slowMover);
  if (slow.length === 0) return [];
  return [
    {
      title: "Used once a year or less: held for safety, not for use",
      table: {
        headers: ["part", `used in ${count(horizon, "month")}`, "a year without one", "a year with one", "hold one"],
        right: [false, true, true, true, false],
        rows: slow.map(({ part, expected, worthHolding, ...own }) => [
          ...[part, piecesWords(expected)],
          ...(worthHolding === null
            ? ["", "", `not known: ${lackingCosts(own)}`]
            : [inWords(worthHolding.without), inWords(worthHolding.holding), worthHolding.worth ? "yes" : "no"]),
        ]),
      },
    },
  ];
}

/** What would be needed to say whether to hold one of a slow mover. */
function lackingCosts({ cost, leadTime }: Pick<SparesPart, "cost" | "leadTime">): string {
  const lacking = [...(cost === null ? ["its price"] : []), ...(leadTime === null ? ["its lead time"] : [])];
  return lacking.length === 0 ? "costs: downtime_a_day in framelife.yaml" : allOf(lacking);
}

function pieces(number: number | null | undefined): string {
  return number === null || number === undefined ? "" : exactly(number);
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
