import type { PartStock, SparesPart } from "./spares-answer.ts";
import { DAYS_A_PERIOD, type Demand, taken } from "./spares-demand.ts";

/** What the stock at hand is good for until the next order arrives. */
type Shortage = Pick<SparesPart, "noShortage" | "fillRate" | "readyRate">;

export type ShortageAsked = {
  demand: Demand;
  /** Periods to the arrival of what is ordered at the next look, of each draw. */
  ahead: Int32Array;
  stock: PartStock;
  /** On hand, and on its way in time. */
  position: number;
  asOf: string;
  /** Fewest pieces taken at a time. */
  atATime: number;
};

/** What is on its way helps from the day on which it is due: until then there is only what lies on the shelf. */
export function shortageOf({ demand, ahead, stock, position, asOf, atATime }: ShortageAsked): Shortage {
  const stages = stagesOf(stock, asOf).map(({ until, there }) => ({
    there,
    used: taken(
      demand,
      0,
      ahead.map((end) => Math.min(until, end)),
    ),
  }));
  const all = taken(demand, 0, ahead);
  let [kept, there, short, used] = [0, 0, 0, 0];
  for (let draw = 0; draw < demand.draws; draw++) {
    const left = stages.reduce(
      (least, { there: pieces, used: early }) => Math.min(least, pieces - early[draw]!),
      position - all[draw]!,
    );
    if (left >= 0) kept++;
    if (left >= atATime) there++;
    short += Math.max(0, -left);
    used += all[draw]!;
  }
  return {
    noShortage: kept / demand.draws,
    readyRate: there / demand.draws,
    fillRate: used === 0 ? 1 : Math.max(0, 1 - short / used),
  };
}

/** What there is before each day on which something is due, in periods from now; what has no day, or one that has passed, is taken to be there. */
function stagesOf({ onHand, due }: PartStock, asOf: string): { until: number; there: number }[] {
  const stages: { until: number; there: number }[] = [];
  let there = onHand;
  for (const { on, pieces } of due) {
    const until = on === null ? 0 : Math.ceil((Date.parse(on) - Date.parse(asOf)) / 86_400_000 / DAYS_A_PERIOD);
    if (until > 0) stages.push({ until, there });
    there += pieces;
  }
  return stages;
}
