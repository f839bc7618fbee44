import type { Estimate } from "../../src/questions/estimate.ts";

/**
 * A share in percent, with a decimal where whole ones would say none or all, and never rounded to either.
 * @example shareWords(0.996); // "99.6 %"
 */
export function shareWords(share: number): string {
  if (share <= 0 || share >= 1) return share >= 1 ? "100 %" : "0 %";
  if (share >= 0.005 && share <= 0.995) return `${(100 * share).toFixed(0)} %`;
  return `${Math.min(Math.max(100 * share, 0.1), 99.9).toFixed(1)} %`;
}

/** A share with its limits: "62 % (48 to 73)"; the reason where it is not known. */
export function shareWithLimits({ estimate, low, high, reason }: Estimate): string {
  if (estimate === null) return `not known (${reason ?? "no estimate"})`;
  if (low === null && high === null) return `${shareWords(estimate)} (limits not known)`;
  const bare = (share: number) => shareWords(share).replace(" %", "");
  if (high === null) return `${shareWords(estimate)} (at least ${bare(low ?? 0)})`;
  if (low === null) return `${shareWords(estimate)} (at most ${bare(high)})`;
  return `${shareWords(estimate)} (${bare(low)} to ${bare(high)})`;
}
