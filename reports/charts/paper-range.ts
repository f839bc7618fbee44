import type { LifeGroup } from "../../src/questions/answer.ts";
import type { SlotLives } from "../../src/questions/overview-types.ts";
import type { PaperRange } from "./weibull-paper.ts";

/** The range that takes in all groups of a page: every failure, line and L10 with its limits, and every life up to its end. */
export function paperRange(
  groups: Pick<LifeGroup, "paper" | "line" | "l10">[],
  lives: Pick<SlotLives, "time" | "ended">[],
): PaperRange {
  const points = groups.flatMap(({ paper }) => paper);
  const lines = groups.flatMap(({ line }) => line);
  const failures = lives.flatMap(({ time, ended }) => Array.from(time).filter((_, life) => ended[life] === "failed"));
  const limits = groups.flatMap(({ l10 }) => [l10.low ?? 0, l10.estimate ?? 0]);
  const ends = lives.flatMap(({ time }) => Array.from(time));
  const high = extreme([...points, ...lines].map(({ time }) => time).concat(ends), Math.max, 0);
  if (!(high > 0)) return { time: [1, 10], failed: [0.01, 0.99] };
  const early = [...points.map(({ time }) => time), ...failures, ...limits].filter((time) => time > 0);
  const low = extreme(early, Math.min, high);
  // Four decades at most: one life of a few minutes must not squeeze the rest into a corner.
  const from = Math.max(Math.min(low, high / 10), high / 10_000);
  const rarest = extreme(
    points.map(({ fractionFailed }) => fractionFailed),
    Math.min,
    0.01,
  );
  return {
    time: [from * 0.85, high * 1.15],
    failed: [[0.001, 0.005, 0.01].findLast((edge) => edge <= rarest) ?? 0.001, 0.99],
  };
}

function extreme(values: number[], pick: (a: number, b: number) => number, start: number): number {
  return values.reduce((best, value) => pick(best, value), start);
}
