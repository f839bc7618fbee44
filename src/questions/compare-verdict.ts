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

/** p-values of several contrasts after Holm, in their order; null stays. */
export function holm(values: readonly (number | null)[]): (number | null)[] {
  const known = values.flatMap((p, at) => (p === null ? [] : [{ p, at }])).sort((one, other) => one.p - other.p);
  const adjusted: (number | null)[] = values.map(() => null);
  let most = 0;
  for (const [rank, { p, at }] of known.entries()) {
    most = Math.max(most, Math.min(1, (known.length - rank) * p));
    adjusted[at] = most;
  }
  return adjusted;
}
