import type { Estimate } from "../questions/estimate.ts";
import { inWords, isTooWide, TOO_WIDE } from "../questions/wording.ts";

/** "5,910 (4,720 to 7,130)"; a dash where there is no estimate, the reason stands in the warnings. */
export function shortly({ estimate, low, high }: Estimate): string {
  if (estimate === null) return "–";
  if (low === null && high === null) return inWords(estimate);
  if (isTooWide({ estimate, low, high })) return `${inWords(estimate)} (${TOO_WIDE})`;
  return `${inWords(estimate)} (${low === null ? "?" : inWords(low)} to ${high === null ? "?" : inWords(high)})`;
}
