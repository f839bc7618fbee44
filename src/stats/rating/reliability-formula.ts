/** Tables of the reliability factor that are in circulation; the older is of the 1990 edition and in catalogues still. */
export type ReliabilityTable = "ISO 281:2007" | "ISO 281:1990";

/** Life that none is below, as a share of the life that 10 % are below. */
const LEAST_LIFE: Record<ReliabilityTable, number> = { "ISO 281:2007": 0.05, "ISO 281:1990": 0 };

/**
 * Reliability factor a1 by the Weibull distribution behind a table: g + (1 - g) * (ln(1 / S) / ln(1 / 0.9))^(1 / 1.5), with a least
 * life g of 0.05 in 2007, none in 1990. It meets every printed factor to its digits within 0.005.
 * @param reliability - share that reaches the life, 0.9 to 0.9995
 * @param table - which of the two
 * @returns a factor of 0 to 1, no unit
 * @throws RangeError if the reliability lies outside its range
 * @see ISO/TR 1281-2 (three-parameter Weibull distribution), from memory
 * @example reliabilityFormula(0.95, "ISO 281:2007"); // 0.638
 */
export function reliabilityFormula(reliability: number, table: ReliabilityTable): number {
  if (!(reliability >= 0.9 && reliability <= 0.9995)) {
    throw new RangeError(`Cannot take a reliability factor: it must be 0.9 to 0.9995, found ${reliability}`);
  }
  const least = LEAST_LIFE[table];
  return least + (1 - least) * (Math.log(reliability) / Math.log(0.9)) ** (1 / 1.5);
}
