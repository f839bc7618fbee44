/** Months until so many failures, at the rate seen; null with the reason where no rate was seen. */
export type MonthsForFailures = { months: number } | { months: null; reason: string };

/**
 * Months until so many failures at the rate of a past period: failures * months / failures seen.
 * @param failures - to wait for, 0 or more
 * @param seen - failures in the past period, 0 or more, and its length in months, above 0
 * @returns months, or the reason why they can't be told
 * @throws RangeError if an argument lies outside its range
 * @see "common practice, no source": the rate is taken to go on
 * @example monthsForFailures(31, { failures: 24, months: 12 }); // { months: 15.5 }
 */
export function monthsForFailures(failures: number, seen: { failures: number; months: number }): MonthsForFailures {
  const isCount = (value: number) => value >= 0 && value < Number.POSITIVE_INFINITY;
  if (!(isCount(failures) && isCount(seen.failures) && isCount(seen.months) && seen.months > 0)) {
    const found = `${failures} to wait for, ${seen.failures} in ${seen.months} months`;
    throw new RangeError(`Cannot tell how long failures take: found ${found}`);
  }
  if (failures === 0) return { months: 0 };
  if (seen.failures === 0)
    return { months: null, reason: "no failure was seen in the period that the rate comes from" };
  return { months: (failures / seen.failures) * seen.months };
}
