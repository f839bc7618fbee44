import type { IntervalLives } from "../stats/lives.ts";
import { fitWeibull, type WeibullFit } from "../stats/weibull/fit.ts";
import { type GatheredLives, gatherLives } from "../stats/weibull/gathered-lives.ts";
import { profileInterval } from "../stats/weibull/profile-interval.ts";
import type { Quantity } from "../stats/weibull/quantity.ts";
import { waldInterval } from "../stats/weibull/wald-interval.ts";
import type { Estimate, LifeGroup } from "./answer.ts";
import type { GroupOfLives } from "./group-lives.ts";
import { curves, fittedLine, intervalCensored } from "./life-curves.ts";
import { groupWarnings, readingWarnings } from "./life-warnings.ts";
import type { LifeQuestion } from "./scope.ts";

const QUANTILES = [0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9];
/** Everything that `life` says of one group. */
export function lifeGroup(group: GroupOfLives, question: LifeQuestion): LifeGroup {
  const lives = asIntervals(group);
  const { fit, estimate } = fitted(lives, question);
  const answer: LifeGroup = {
    by: group.by,
    basis: group.basis,
    shape: estimate({ kind: "shape" }),
    scale: estimate({ kind: "scale" }),
    l10: estimate({ kind: "quantile", p: 0.1 }),
    median: estimate({ kind: "quantile", p: 0.5 }),
    mean: estimate({ kind: "mean" }),
    logLikelihood: fit.converged ? fit.logLikelihood : null,
    covariance: fit.converged ? fit.covariance : null,
    distribution: "weibull",
    interval: {
      method: question.interval,
      draws: null,
      redrawn: null,
      seed: null,
      clusters: null,
      clusteredBy: null,
      instead: null,
    },
    mission: [],
    conditional: [],
    modes: null,
    fit: null,
    alternatives: [],
    rating: null,
    pooled: null,
    assumedShape: [],
    intervalCensored: intervalCensored(lives),
    ...curves(lives, question.level),
    quantiles: QUANTILES.map((p) => ({ p, ...estimate({ kind: "quantile", p }) })),
    line: fit.converged ? fittedLine(lives, fit, question.level) : [],
    unknownAsFailed: group.basis.unknown === 0 ? null : other(unknownFailed(group), question),
    lastSeen: group.assumedRunning.includes(1) ? other(stoppedAtLastSeen(group), question) : null,
    warnings: [],
  };
  answer.warnings = [...groupWarnings(answer, group), ...readingWarnings(answer)];
  return answer;
}

function asIntervals({ low, high, entry, count }: GroupOfLives): IntervalLives {
  return { low, high, entry, count };
}

/** A fit, and what takes figures with their limits from it; the lives are gathered once for all figures. */
function fitted(
  lives: IntervalLives,
  { interval, level }: LifeQuestion,
): { fit: WeibullFit; estimate: (quantity: Quantity) => Estimate } {
  const gathered = gatherLives(lives);
  if ("refused" in gathered) {
    const reason = gathered.refused;
    const nothing = { estimate: null, low: null, high: null, reason };
    return { fit: { converged: false, reason, failures: gathered.failures }, estimate: () => nothing };
  }
  const fit = fitWeibull(gathered);
  return { fit, estimate: (quantity) => limits(gathered, fit, quantity, interval, level) };
}

function limits(
  lives: GatheredLives,
  fit: WeibullFit,
  quantity: Quantity,
  interval: LifeQuestion["interval"],
  level: number,
): Estimate {
  if (!fit.converged) return { estimate: null, low: null, high: null, reason: fit.reason };
  return interval === "wald" ? waldInterval(fit, quantity, level) : profileInterval(lives, fit, quantity, level);
}

/** L10 and median of the same group under another reading of its lives. */
function other(lives: IntervalLives, question: LifeQuestion): { l10: Estimate; median: Estimate } {
  const { estimate } = fitted(lives, question);
  return { l10: estimate({ kind: "quantile", p: 0.1 }), median: estimate({ kind: "quantile", p: 0.5 }) };
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
