import { type ReliabilityTable, reliabilityFormula } from "./reliability-formula.ts";

const PRINTED: Record<ReliabilityTable, readonly (readonly [reliability: number, factor: number])[]> = {
  "ISO 281:2007": [
    [0.9, 1],
    [0.95, 0.64],
    [0.96, 0.55],
    [0.97, 0.47],
    [0.98, 0.37],
    [0.99, 0.25],
    [0.992, 0.22],
    [0.994, 0.19],
    [0.996, 0.16],
    [0.998, 0.12],
    [0.999, 0.093],
    [0.9992, 0.087],
    [0.9994, 0.08],
    [0.9995, 0.077],
  ],
  "ISO 281:1990": [
    [0.9, 1],
    [0.95, 0.62],
    [0.96, 0.53],
    [0.97, 0.44],
    [0.98, 0.33],
    [0.99, 0.21],
  ],
};

/** The factor, the table asked for, and whether it is printed there or is the formula's between and beyond its rows. */
export type ReliabilityFactor = { factor: number; table: ReliabilityTable; printed: boolean };

/**
 * Reliability factor a1: what the basic rating life is multiplied by where more than 90 % are to reach it. Two tables are in
 * circulation, so the answer names its own; never mix them.
 * @param reliability - share that reaches the life, 0.9 to 0.9995
 * @param table - which of the two
 * @returns the factor, no unit, and where it stands
 * @throws RangeError if the reliability lies outside its range
 * @see ISO 281:2007, and its 1990 edition; both from memory, most rows seen in makers' tables
 * @example reliabilityFactor(0.95, "ISO 281:2007"); // { factor: 0.64, table: "ISO 281:2007", printed: true }
 */
export function reliabilityFactor(reliability: number, table: ReliabilityTable): ReliabilityFactor {
  const row = PRINTED[table].find(([printed]) => Math.abs(printed - reliability) < 1e-9);
  return { factor: row?.[1] ?? reliabilityFormula(reliability, table), table, printed: row !== undefined };
}
