import type { Family } from "../stats/distribution/family.ts";
import type { ConvergedFit } from "../stats/fit/fit.ts";
import { lineLimits } from "../stats/fit/line-limits.ts";
import type { IntervalLives, Lives } from "../stats/lives.ts";
import { countedPaperPoints, jumpMiddles } from "../stats/ranks/paper-points.ts";
import { countedKaplanMeier } from "../stats/survival/kaplan-meier.ts";
import { countedLives, entersLate, startOfCounted } from "../stats/survival/risk-table.ts";
import { turnbull } from "../stats/survival/turnbull.ts";
import type { LifeGroup } from "./answer.ts";

/** Under late entry a curve starts where so many are at risk: with fewer a single failure would move it too far. */
export const MINIMUM_AT_RISK = 5;
const LINE_POINTS = 40;

export type Curves = Pick<LifeGroup, "survival" | "survivalFrom" | "paper" | "turnbull">;

/** Of a group whose curves are not asked for. */
export const NO_CURVES: Curves = { survival: [], survivalFrom: null, paper: [], turnbull: [] };

/** The survival curve and the points on paper; where lives are known by an interval only, the curve that takes them. */
export function curves(lives: IntervalLives, level: number): Curves {
  const right = rightCensored(lives);
  if (right === null) return { ...NO_CURVES, turnbull: drops(lives) };
  const counted = countedLives(right);
  const start = startOfCounted(counted, MINIMUM_AT_RISK);
  if (start === null) return NO_CURVES;
  const steps = countedKaplanMeier(counted, { ...STEPS, level });
  return {
    survivalFrom: start,
    survival: dropsOf(steps),
    paper: entersLate(right) ? jumpMiddles(steps) : countedPaperPoints(counted),
    turnbull: [],
  };
}

/** The survival curve alone; empty where `curves` has none. */
export function survivalCurve(lives: IntervalLives, level: number): Curves["survival"] {
  const right = rightCensored(lives);
  if (right === null) return [];
  const counted = countedLives(right);
  if (startOfCounted(counted, MINIMUM_AT_RISK) === null) return [];
  return dropsOf(countedKaplanMeier(counted, { ...STEPS, level }));
}

const STEPS = { limits: "log-log", minimumAtRisk: MINIMUM_AT_RISK } as const;

/** Those of the steps at which lives failed. */
function dropsOf(steps: ReturnType<typeof countedKaplanMeier>): Curves["survival"] {
  const drops: Curves["survival"] = [];
  for (const { time, atRisk, failed, survival, se, low, high } of steps) {
    if (failed > 0) drops.push({ time, atRisk, failed, se, low, high, estimate: survival });
  }
  return drops;
}

/** Of more lives, each within an interval of its own, the curve would take longer than anyone waits. */
const MOST_WITHIN = 20_000;

function drops(lives: IntervalLives): LifeGroup["turnbull"] {
  if (lives.low.length > MOST_WITHIN) return [];
  const found = turnbull(lives, { minimumAtRisk: MINIMUM_AT_RISK });
  return found.converged ? found.drops.map(({ low, high, before, after }) => ({ low, high, before, after })) : [];
}

/** How many lives are known to have failed within an interval only. */
export function intervalCensored({ low, high, count }: IntervalLives): number {
  let sum = 0;
  for (let life = 0; life < high.length; life++) {
    if (high[life] !== low[life] && high[life] !== Number.POSITIVE_INFINITY) sum += count?.[life] ?? 1;
  }
  return sum;
}

/** The same lives where each end is known; null where some are known by an interval only. */
export function rightCensored(lives: IntervalLives): Lives | null {
  if (intervalCensored(lives) > 0) return null;
  const { low, high, entry, count } = lives;
  const failed = new Uint8Array(high.length);
  for (let life = 0; life < high.length; life++) failed[life] = high[life] === low[life] ? 1 : 0;
  return { time: low, failed, ...(entry === undefined ? {} : { entry }), ...(count === undefined ? {} : { count }) };
}

/** The fitted line from the first age at which a failure was seen to the longest life, at ages evenly spread on paper. */
export function fittedLine(
  { low, high }: IntervalLives,
  family: Family,
  fit: ConvergedFit,
  level: number,
): LifeGroup["line"] {
  let shortest = Number.POSITIVE_INFINITY;
  let longest = 0;
  for (let life = 0; life < low.length; life++) {
    shortest = Math.min(shortest, high[life]!);
    longest = Math.max(longest, low[life]!, high[life] === Number.POSITIVE_INFINITY ? 0 : high[life]!);
  }
  const from = Math.log(shortest < longest ? shortest : longest / 100);
  const step = (Math.log(longest) - from) / (LINE_POINTS - 1);
  const times = Float64Array.from({ length: LINE_POINTS }, (_, point) => Math.exp(from + step * point));
  return lineLimits(family, fit, times, level);
}
