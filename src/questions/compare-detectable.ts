import { errorsApart } from "../stats/trial/aim.ts";
import { failuresToSettle } from "../stats/trial/failures-to-settle.ts";
import { monthsForFailures } from "../stats/trial/months-for-failures.ts";
import type { CompareAnswer } from "./compare-answer.ts";

const RATIOS = [1.15, 1.25, 1.5];
const DAYS_A_MONTH = 365.25 / 12;

/**
 * What these failures would show in four of five cases, and how many more, at this rate in how many months, would show a ratio.
 * @param error - standard error of the log ratio
 * @param matters - the ratio that would matter
 */
export function detectableOf(
  { failures, error, watchedDays }: { failures: number; error: number; watchedDays: number | null },
  matters: number,
  level: number,
): CompareAnswer["detectable"] {
  if (!(failures > 0 && error > 0)) return { ratio: null, settle: [] };
  const ratios = [...new Set([matters, ...RATIOS])].sort((one, other) => one - other);
  const settle = ratios.map((ratio) => {
    const { whole } = failuresToSettle({ failures, standardError: error }, ratio, { level });
    const wait =
      watchedDays === null ? null : monthsForFailures(whole, { failures, months: watchedDays / DAYS_A_MONTH });
    return { ratio, failures: whole, months: wait?.months ?? null };
  });
  return { ratio: Math.exp(errorsApart({ level }) * error), settle };
}
