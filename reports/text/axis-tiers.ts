/** Rows that share an axis, and how far it must reach. */
export type AxisTier<Row> = { rows: Row[]; top: number };

/** What reaches less than this share of an axis is drawn too flat to read. */
const FLAT = 0.4;

/**
 * Parts rows into tiers that can share an axis: none reaches less than two fifths of what its tier's greatest does.
 * @param top - how far one reaches, from 0 on
 * @returns the greatest first; within a tier as well
 * @example axisTiers([3, 100, 80], (row) => row); // [{ rows: [100, 80], top: 100 }, { rows: [3], top: 3 }]
 */
export function axisTiers<Row>(rows: Row[], top: (row: Row) => number): AxisTier<Row>[] {
  const tiers: AxisTier<Row>[] = [];
  for (const row of rows.toSorted((one, two) => top(two) - top(one))) {
    const last = tiers.at(-1);
    if (last !== undefined && top(row) >= FLAT * last.top) last.rows.push(row);
    else tiers.push({ rows: [row], top: top(row) });
  }
  return tiers;
}
