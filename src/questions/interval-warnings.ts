import type { LifeGroup } from "./answer.ts";
import { count, inFull } from "./wording.ts";

type Counted = Pick<LifeGroup, "intervalCensored" | "basis">;

/** What one group's failures known by an interval only mean for its answer; null where there are none. */
export function intervalWarning({ intervalCensored, basis }: Counted): string | null {
  return intervalCensored === 0 ? null : said(intervalCensored, basis.failed);
}

/**
 * The same of several groups at once, in one sentence.
 * @param one - what a group is called
 * @example intervalWarnings(groups, "slot"); // ["in 2 of 5 slots 3 of 90 failures are known by an interval only: ..."]
 */
export function intervalWarnings(groups: Counted[], one: string): string[] {
  const touched = groups.filter(({ intervalCensored }) => intervalCensored > 0);
  if (touched.length === 0) return [];
  const lives = touched.reduce((sum, { intervalCensored }) => sum + intervalCensored, 0);
  const failed = touched.reduce((sum, { basis }) => sum + basis.failed, 0);
  return [`in ${touched.length} of ${count(groups.length, one)} ${said(lives, failed)}`];
}

function said(lives: number, failed: number): string {
  const known = `${inFull(lives)} of ${count(failed, "failure")} ${lives === 1 ? "is" : "are"} known by an interval only`;
  return `${known}: a Kaplan-Meier curve and points on Weibull paper need exact ages and are left out; the Weibull fit and the Turnbull curve take both`;
}
