import type { BenchGroup } from "./bench-answer.ts";
import { shareWords } from "./bench-sentence.ts";
import type { FleetOverview } from "./overview-types.ts";
import { count, inFull } from "./wording.ts";

/** What leaves the bench of a fleet and what comes back to it, in sentences for the head of a page; none of what is not known. */
export function benchFindings({ bench, endPlay }: Pick<FleetOverview, "bench" | "endPlay">): string[] {
  const [group] = bench.groups;
  return group === undefined ? [] : [...outside(group, endPlay.window), ...back(group)];
}

function outside({ asBuilt: { outside: share } }: BenchGroup, window: FleetOverview["endPlay"]["window"]): string[] {
  if (window === null || share.estimate === null) return [];
  return [
    `${inFull(share.count)} of ${count(share.of, "as-built end play")} ${share.count === 1 ? "lies" : "lie"} outside the window of ${window.low} to ${window.high} ${window.unit} (${window.source}): ${shareWords(share)}.`,
  ];
}

function back({ comebacks }: BenchGroup): string[] {
  if (comebacks === null || comebacks.share.estimate === null) return [];
  const { share, limit } = comebacks;
  return [
    `Of ${count(share.of, "build")} ${inFull(share.count)} came back for failure within ${count(limit, "day")}: ${shareWords(share)}.`,
  ];
}
