import type { IntervalUsed } from "../../src/questions/life-answer.ts";
import { count } from "../../src/questions/wording.ts";

/**
 * How limits were found, to follow "Limits ".
 * @example limitsWords(used); // "by leaving out each of 37 units in turn"
 */
export function limitsWords(used: IntervalUsed): string {
  return `${howFound(used)}${redrawn(used)}${used.instead === null ? "" : `; ${used.instead}`}`;
}

function howFound({ method, draws, clusters, clusteredBy, seed }: IntervalUsed): string {
  const drawn = draws === null ? "drawn sets of lives" : `${count(draws, "drawn set")} of lives`;
  switch (method) {
    case "profile":
      return "by likelihood";
    case "calibrated":
      return `by likelihood, with a cut-off from ${drawn}`;
    case "clustered": {
      const what = clusteredBy ?? "unit";
      if (clusters === null) return `by leaving out each ${what} in turn`;
      return seed === null
        ? `by leaving out each of ${count(clusters, what)} in turn`
        : `by leaving out each of ${count(clusters, "group")} of ${what}s in turn`;
    }
    case "wald":
      return "by the normal law, on the log scale";
    case "chi-square":
      return "by the chi-square law, the shape being taken as known";
    case "bootstrap":
      return `from ${drawn}, each fitted again`;
  }
}

function redrawn({ redrawn: again, seed }: IntervalUsed): string {
  const said = [
    ...(seed === null ? [] : [`seed ${seed}`]),
    ...(again === null || again === 0
      ? []
      : [`${again.toLocaleString("en-US")} drawn again, for they could not be fitted`]),
  ];
  return said.length === 0 ? "" : ` (${said.join("; ")})`;
}
