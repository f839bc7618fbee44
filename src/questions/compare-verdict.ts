import type { Verdict } from "./compare-answer.ts";
import type { Estimate } from "./estimate.ts";

/**
 * What the limits of a life ratio say: within (1 / matters, matters) nothing that matters, even where they leave out 1; else longer or
 * shorter where they leave out 1; else too little.
 */
export function verdictOf({ low, high }: Estimate, matters: number): Verdict {
  if (low === null || high === null) return "not enough evidence";
  if (low > 1 / matters && high < matters) return "no practical difference";
  if (low > 1) return "longer";
  return high < 1 ? "shorter" : "not enough evidence";
}
