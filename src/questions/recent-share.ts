import type { FieldCompleteness } from "./audit-types.ts";

/** Half a year of months with records. */
const MONTHS = 6;

/** Share of the records of the latest months that have a field; null where no month has records. `months` are in their order. */
export function recentShare(months: FieldCompleteness["months"]): number | null {
  const latest = months.slice(-MONTHS);
  const records = latest.reduce((sum, month) => sum + month.records, 0);
  return records === 0 ? null : latest.reduce((sum, month) => sum + month.have, 0) / records;
}
