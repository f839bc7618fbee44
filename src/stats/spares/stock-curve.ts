import { checkChances, checkedWhole } from "./check-chances.ts";

/** Figures of each stock from 0 on, held when a lead time begins; the index is the stock. */
export type StockCurve = {
  /** Chance that the demand of a lead time does not exceed the stock, P(D <= s): no shortage in the lead time. */
  noShortage: Float64Array;
  /** Chance that it does, P(D > s): the risk of running out, to full relative precision. */
  risk: Float64Array;
  /** Pieces short, on average: E(D - s)+. */
  expectedShort: Float64Array;
  /** Share of the demand met from the shelf: 1 - E(D - s)+ / E(D); 1 without demand. */
  fillRate: Float64Array;
  /** Chance that what is asked for is there when it is asked for, with every piece used ordered again at once: P(D <= s - asked). */
  ready: Float64Array;
};

/**
 * Figures of every stock, from 0 to the largest.
 * @param demand - chance of each number of pieces that a lead time demands, from 0 on
 * @param largest - largest stock looked at: a whole number, 0 or more; the largest demand held where not given
 * @param asked - pieces asked for at a time, for `ready`: a whole number from 1 on, 1 where not given
 * @returns an array of each figure
 * @throws RangeError for what are not chances, or no whole numbers
 * @see W. Feller, An Introduction to Probability Theory and Its Applications, vol. 1, ch. 6; C. C. Sherbrooke, Optimal Inventory Modeling of Systems, ch. 2
 * @example stockCurve(poissonCounts(1.25)).ready[3]; // 0.868468, while noShortage[3] is 0.961731
 */
export function stockCurve(demand: Float64Array, largest: number = demand.length - 1, asked: number = 1): StockCurve {
  checkChances(demand);
  checkedWhole("a stock", largest, 0);
  checkedWhole("a number of pieces asked for", asked, 1);
  const { risk, short } = tailsOf(demand, largest);
  const mean = short[0]!;
  const noShortage = chancesUpTo(demand, largest);
  return {
    noShortage,
    risk: risk.subarray(0, largest + 1),
    expectedShort: short.subarray(0, largest + 1),
    fillRate: short.subarray(0, largest + 1).map((pieces) => (mean > 0 ? 1 - pieces / mean : 1)),
    ready: noShortage.map((_, stock) => noShortage[stock - asked] ?? 0),
  };
}

/** P(D > s) and E(D - s)+, the sum of P(D > j) over j >= s, from the largest demand down. */
function tailsOf(demand: Float64Array, largest: number): { risk: Float64Array; short: Float64Array } {
  const size = Math.max(demand.length, largest + 1);
  const [risk, short] = [new Float64Array(size + 1), new Float64Array(size + 1)];
  for (let stock = size - 1; stock >= 0; stock--) {
    // Rounded sums of chances may come to more than 1.
    risk[stock] = Math.min(1, risk[stock + 1]! + (demand[stock + 1] ?? 0));
    short[stock] = short[stock + 1]! + risk[stock]!;
  }
  return { risk, short };
}

function chancesUpTo(demand: Float64Array, largest: number): Float64Array {
  let sum = 0;
  return Float64Array.from({ length: largest + 1 }, (_, stock) => {
    sum += demand[stock] ?? 0;
    return Math.min(sum, 1);
  });
}
