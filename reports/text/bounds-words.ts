import type { Estimate } from "../../src/questions/estimate.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";

/** A figure with its limits, or the one bound where there is no estimate: "at least 3,200". */
export function boundsWords(figure: Estimate, unit = ""): string {
  const { estimate, low, high } = figure;
  if (estimate !== null) return withLimits(figure, unit);
  if (low !== null) return `at least ${inWords(low)}${unit}`;
  return high !== null ? `at most ${inWords(high)}${unit}` : withLimits(figure, unit);
}
