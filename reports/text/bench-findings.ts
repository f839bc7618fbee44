import type { BenchChart, BenchComebacks, BenchGroup } from "../../src/questions/bench-answer.ts";
import { shareWords } from "../../src/questions/bench-sentence.ts";
import { count, inWords } from "../../src/questions/wording.ts";

/** How many readings lie outside the window; without one, where they lie. */
export function endPlayFinding(
  { asBuilt: { readings, outside, histogram, unit } }: BenchGroup,
  judged: boolean,
): string {
  if (judged) return `${outside.count.toLocaleString("en-US")} of ${count(readings, "reading")} lie outside the window`;
  const [from, to] = [histogram[0]?.from ?? 0, histogram.at(-1)?.to ?? 0];
  return `${count(readings, "reading")} from ${inWords(from)} to ${inWords(to)}${unit === null ? "" : ` ${unit}`}`;
}

/** How many readings break a run rule, beside what chance gives. */
export function orderedFinding({ limits, breaks, breaksByChance, readings }: BenchChart): string {
  if (limits === null) return `${count(readings, "reading")}, too few to say what is usual`;
  return `${breaks.toLocaleString("en-US")} of ${count(readings, "reading")} break a run rule, where chance gives about ${inWords(Math.max(1, Math.round(breaksByChance)))}`;
}

/** The share of all builds that come back inside the limit. */
export function backFinding({ share, limit }: BenchComebacks): string {
  return `${shareWords(share)} of builds come back for failure within ${count(limit, "day")}`;
}
