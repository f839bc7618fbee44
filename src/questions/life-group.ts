import type { IntervalLives, Lives } from "../stats/lives.ts";
import { adjustedRanks } from "../stats/ranks/adjusted-ranks.ts";
import { kaplanMeier } from "../stats/survival/kaplan-meier.ts";
import { fitWeibull, type WeibullFit } from "../stats/weibull/fit.ts";
import { lineLimits } from "../stats/weibull/line-limits.ts";
import { profileInterval } from "../stats/weibull/profile-interval.ts";
import type { Quantity } from "../stats/weibull/quantity.ts";
import { waldInterval } from "../stats/weibull/wald-interval.ts";
import type { Estimate, LifeGroup, SurvivalStep } from "./answer.ts";
import type { GroupOfLives } from "./group-lives.ts";
import type { LifeQuestion } from "./scope.ts";
import { count, percent } from "./wording.ts";

const QUANTILES = [0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9];
/** Below this many failures the limits are wide and the fit leans on single lives. */
const FEW_FAILURES = 5;
/** Relative change of L10 or the median from which an assumption about running lives is called out. */
const WORTH_SAYING = 0.1;

/** Everything that `life` says of one group. */
export function lifeGroup(group: GroupOfLives, question: LifeQuestion): LifeGroup {
  const lives = asIntervals(group);
  const fit = fitWeibull(lives);
  const estimate = (quantity: Quantity) => limits(lives, fit, quantity, question);
  const l10 = estimate({ kind: "quantile", p: 0.1 });
  const median = estimate({ kind: "quantile", p: 0.5 });
  const right = rightCensored(lives);
  const answer: LifeGroup = {
    by: group.by,
    basis: group.basis,
    shape: estimate({ kind: "shape" }),
    scale: estimate({ kind: "scale" }),
    l10,
    median,
    mean: estimate({ kind: "mean" }),
    logLikelihood: fit.converged ? fit.logLikelihood : null,
    covariance: fit.converged ? fit.covariance : null,
    interval: { method: question.interval, draws: null, seed: null },
    survival: right === null ? [] : survivalSteps(right, question.level),
    quantiles: QUANTILES.map((p) => ({ p, ...estimate({ kind: "quantile", p }) })),
    paper:
      right === null || right.entry?.some((entry) => entry > 0)
        ? []
        : adjustedRanks(right).map(({ time, rank, medianRank }) => ({ time, rank, fractionFailed: medianRank })),
    line: fit.converged ? fittedLine(group, fit, question.level) : [],
    unknownAsFailed: group.basis.unknown === 0 ? null : other(unknownFailed(group), question),
    lastSeen: group.assumedRunning.includes(1) ? other(stoppedAtLastSeen(group), question) : null,
    warnings: [],
  };
  answer.warnings = warnings(answer, group, right === null);
  return answer;
}

function asIntervals({ low, high, entry, count }: GroupOfLives): IntervalLives {
  return { low, high, entry, count };
}

function limits(
  lives: IntervalLives,
  fit: WeibullFit,
  quantity: Quantity,
  { interval, level }: LifeQuestion,
): Estimate {
  if (!fit.converged) return { estimate: null, low: null, high: null, reason: fit.reason };
  return interval === "wald" ? waldInterval(fit, quantity, level) : profileInterval(lives, fit, quantity, level);
}

/** The lives as exact or right-censored ones; null where any is known by an interval only. */
function rightCensored({ low, high, entry, count }: IntervalLives): Lives | null {
  const failed = new Uint8Array(low.length);
  for (let life = 0; life < low.length; life++) {
    if (high[life] === low[life]) failed[life] = 1;
    else if (high[life] !== Number.POSITIVE_INFINITY) return null;
  }
  return { time: low, failed, ...(entry === undefined ? {} : { entry }), ...(count === undefined ? {} : { count }) };
}

function survivalSteps(lives: Lives, level: number): SurvivalStep[] {
  return kaplanMeier(lives, { level, limits: "log-log" })
    .filter(({ failed }) => failed > 0)
    .map(({ time, atRisk, failed, survival, se, low, high }) => ({
      time,
      atRisk,
      failed,
      estimate: survival,
      se,
      low,
      high,
    }));
}

function fittedLine(group: GroupOfLives, fit: WeibullFit & { converged: true }, level: number): LifeGroup["line"] {
  let shortest = Number.POSITIVE_INFINITY;
  let longest = 0;
  for (let life = 0; life < group.low.length; life++) {
    if (group.high[life] === group.low[life]) shortest = Math.min(shortest, group.low[life]!);
    longest = Math.max(longest, group.low[life]!);
  }
  const points = 40;
  const from = Math.log(Math.min(shortest, longest));
  const step = (Math.log(longest) - from) / (points - 1);
  const times = Float64Array.from({ length: points }, (_, point) => Math.exp(from + step * point));
  return lineLimits(fit, times, level);
}

/** L10 and median of the same group under another reading of its lives. */
function other(lives: IntervalLives, question: LifeQuestion): { l10: Estimate; median: Estimate } {
  const fit = fitWeibull(lives);
  return {
    l10: limits(lives, fit, { kind: "quantile", p: 0.1 }, question),
    median: limits(lives, fit, { kind: "quantile", p: 0.5 }, question),
  };
}

function unknownFailed(group: GroupOfLives): IntervalLives {
  const high = group.high.map((end, life) => (group.unknown[life] === 1 ? group.low[life]! : end));
  return { ...asIntervals(group), high };
}

/** Assumed running lives stopped at the last evidence of any kind; those without any after their start drop out. */
function stoppedAtLastSeen(group: GroupOfLives): IntervalLives {
  const end = (life: number) => (group.assumedRunning[life] === 1 ? group.lastSeen[life]! : group.low[life]!);
  const kept = Array.from(group.low.keys()).filter((life) => end(life) > group.entry[life]!);
  const pick = (values: Float64Array) => Float64Array.from(kept, (life) => values[life]!);
  return {
    low: Float64Array.from(kept, end),
    high: pick(group.high),
    entry: pick(group.entry),
    count: pick(group.count),
  };
}

function warnings(answer: LifeGroup, group: GroupOfLives, intervalCensored: boolean): string[] {
  const found: string[] = [];
  const { failed, lives } = answer.basis;
  if (answer.l10.estimate === null) found.push(`no life could be fitted: ${answer.l10.reason ?? "no estimate"}`);
  else if (failed < FEW_FAILURES) found.push(`only ${count(failed, "failure")}: read the limits, not the estimate`);
  if (intervalCensored)
    found.push(
      "some lives are known by an interval only: no survival curve or paper is drawn; the Weibull fit takes them",
    );
  if (new Set(group.entity).size < lives) {
    found.push(
      "units give several lives each, which the limits take as independent: where frames differ they are too narrow",
    );
  }
  found.push(
    ...otherReading(
      answer,
      "unknownAsFailed",
      `${count(answer.basis.unknown, "life", "lives")} of unknown ending taken as failed`,
    ),
  );
  found.push(
    ...otherReading(
      answer,
      "lastSeen",
      "running lives stopped at their last evidence instead of followed to the as-of date",
    ),
  );
  return found;
}

function otherReading(answer: LifeGroup, key: "unknownAsFailed" | "lastSeen", words: string): string[] {
  const second = answer[key];
  const changes = (["l10", "median"] as const).flatMap((figure) => {
    const here = answer[figure].estimate;
    const there = second?.[figure].estimate ?? null;
    return here === null || there === null || Math.abs(there / here - 1) <= WORTH_SAYING
      ? []
      : [{ figure, change: there / here - 1 }];
  });
  if (changes.length === 0) return [];
  const said = changes.map(
    ({ figure, change }) =>
      `${figure === "l10" ? "L10" : "the median"} by ${change > 0 ? "+" : "-"}${percent(Math.abs(change))}`,
  );
  return [`with ${words} the answer moves, ${said.join(" and ")}`];
}
