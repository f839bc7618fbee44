/** Planned openings of each unit, rising, one unit after another; Infinity ends each unit's. */
export type PlannedOpenings = {
  /** Where each unit's begin. */
  start: Int32Array;
  month: Float64Array;
};

export function plannedByUnit(units: number, planned?: { unit: Int32Array; month: Float64Array }): PlannedOpenings {
  const own: number[][] = Array.from({ length: units }, () => []);
  for (const [row, unit] of planned?.unit.entries() ?? []) own[unit]!.push(planned!.month[row]!);
  const start = new Int32Array(units);
  const month: number[] = [];
  for (const [unit, months] of own.entries()) {
    start[unit] = month.length;
    month.push(...months.sort((one, other) => one - other), Number.POSITIVE_INFINITY);
  }
  return { start, month: Float64Array.from(month) };
}
