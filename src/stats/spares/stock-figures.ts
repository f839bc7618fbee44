import { checkedWhole } from "./check-chances.ts";
import { stockCurve } from "./stock-curve.ts";

/** Figures of one stock held when a lead time begins; three of them are called a service level, and differ. */
export type StockFigures = {
  /** Chance of no shortage in a lead time: P(D <= s). */
  noShortage: number;
  /** Chance of running out in a lead time: P(D > s). */
  risk: number;
  /** Pieces short in a lead time, on average: E(D - s)+. */
  expectedShort: number;
  /** Share of the demand met from the shelf. */
  fillRate: number;
  /** Chance that what is asked for is there when it is asked for: P(D <= s - asked). */
  ready: number;
};

/**
 * Figures of one stock; of all, `stockCurve`.
 * @param demand - chance of each number of pieces that a lead time demands, from 0 on
 * @param stock - pieces held when it begins: a whole number, 0 or more
 * @param asked - pieces asked for at a time, for `ready`; 1 where not given
 * @returns the figures
 * @throws RangeError for what are not chances, or no whole numbers
 * @see C. C. Sherbrooke, Optimal Inventory Modeling of Systems, ch. 2
 * @example stockFigures(poissonCounts(1.25), 3).noShortage; // 0.961731
 */
export function stockFigures(demand: Float64Array, stock: number, asked: number = 1): StockFigures {
  const held = Math.min(checkedWhole("a stock", stock, 0), demand.length + asked);
  const curve = stockCurve(demand, held, asked);
  return {
    noShortage: curve.noShortage[held]!,
    risk: curve.risk[held]!,
    expectedShort: curve.expectedShort[held]!,
    fillRate: curve.fillRate[held]!,
    ready: curve.ready[held]!,
  };
}
