import { surfaceOf } from "../stats/fit/surface-of.ts";
import type { IntervalLives, Lives } from "../stats/lives.ts";
import type { LifeGroup } from "./answer.ts";
import type { Estimate } from "./estimate.ts";
import { flaggedOf, type GroupOfLives, intervalsOf } from "./group-lives.ts";
import { assumedLaw, assumedShapes } from "./life-assumed-shape.ts";
import { conditionals } from "./life-conditional.ts";
import { curves, fittedLine, intervalCensored, NO_CURVES } from "./life-curves.ts";
import { alternatives, fitChecks } from "./life-fit.ts";
import { type Clusters, clustersOf, type Law, lawOf } from "./life-limits.ts";
import { modesOf } from "./life-modes.ts";
import { groupWarnings, readingWarnings } from "./life-warnings.ts";
import type { LifeQuestion } from "./scope.ts";

const QUANTILES = [0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9];

/** Everything that `life` says of one group by its own lives. */
export function lifeGroup(group: GroupOfLives, question: LifeQuestion): LifeGroup {
  const lives = intervalsOf(group);
  const clusters = clustersOf(group);
  const law = lawFor(lives, clusters, question, flaggedOf(group));
  const { fit, estimate } = law;
  const fractions = [...new Set([...QUANTILES, ...question.quantiles])].sort((a, b) => a - b);
  const ages = new Map(fractions.map((p) => [p, estimate({ kind: "quantile", p })]));
  const byShare = (p: number) => ages.get(p)!;
  const drawn = question.curves ? curves(lives, question.level) : NO_CURVES;
  const answer: LifeGroup = {
    by: group.by,
    basis: group.basis,
    shape: estimate({ kind: "shape" }),
    scale: estimate({ kind: "scale" }),
    l10: byShare(0.1),
    median: byShare(0.5),
    mean: estimate({ kind: "mean" }),
    logLikelihood: fit.converged ? fit.logLikelihood : null,
    covariance: fit.converged ? fit.covariance : null,
    distribution: question.distribution,
    interval: law.used,
    intervalCensored: intervalCensored(lives),
    ...drawn,
    quantiles: fractions.map((p) => ({ p, ...byShare(p) })),
    mission: question.mission.map((time) => ({ time, ...estimate({ kind: "survival", time }) })),
    conditional: conditionals(group.running, law, question.mission),
    modes: question.modes ? modesOf(group, question) : null,
    fit: question.checks ? fitChecks(lives, law, drawn, question.seed) : null,
    alternatives: question.checks ? alternatives(lives, law) : [],
    rating: null,
    pooled: null,
    assumedShape: assumedShapes(lives, question, group.basis.failed),
    line:
      question.curves && fit.converged && law.family !== null ? fittedLine(lives, law.family, fit, question.level) : [],
    unknownAsFailed: group.basis.unknown === 0 ? null : other(unknownFailed(group), clusters, alike(question, law)),
    lastSeen: group.assumedRunning.includes(1) ? stopped(group, alike(question, law)) : null,
    warnings: [],
  };
  answer.warnings = [...groupWarnings(answer, group, question.curves), ...readingWarnings(answer)];
  return answer;
}

/** Another reading of the lives has its limits found in the same way, so that the two can be compared. */
function alike(question: LifeQuestion, { used: { method } }: Law): LifeQuestion {
  return method === "chi-square" ? question : { ...question, interval: method };
}

/** L10 and median of the same group under another reading of its lives. */
function other(lives: IntervalLives, clusters: Clusters, question: LifeQuestion): { l10: Estimate; median: Estimate } {
  const { estimate } = lawFor(lives, clusters, question);
  return { l10: estimate({ kind: "quantile", p: 0.1 }), median: estimate({ kind: "quantile", p: 0.5 }) };
}

/** @param flagged - the same lives with a flag each, where they can be had so */
function lawFor(lives: IntervalLives, clusters: Clusters, question: LifeQuestion, flagged: Lives | null = null): Law {
  const { shape, level, distribution } = question;
  return shape === undefined
    ? lawOf(lives, clusters, question, surfaceOf(flagged ?? lives, distribution))
    : assumedLaw(lives, shape, level);
}

function unknownFailed(group: GroupOfLives): IntervalLives {
  const lives = intervalsOf(group);
  return { ...lives, high: lives.high.map((end, life) => (group.unknown[life] === 1 ? group.low[life]! : end)) };
}

/** Assumed running lives stopped at the last evidence of any kind; those without any after their start drop out. */
function stopped(group: GroupOfLives, question: LifeQuestion): { l10: Estimate; median: Estimate } {
  const { low, high, entry, count } = intervalsOf(group);
  const end = (life: number) => (group.assumedRunning[life] === 1 ? group.lastSeen[life]! : low[life]!);
  const kept = Array.from(low.keys()).filter((life) => end(life) > (entry?.[life] ?? 0));
  const pick = (values: Float64Array) => Float64Array.from(kept, (life) => values[life]!);
  const lives = {
    low: Float64Array.from(kept, end),
    high: pick(high),
    ...(entry !== undefined && { entry: pick(entry) }),
    ...(count !== undefined && { count: pick(count) }),
  };
  const of = (numbers: Int32Array) => Int32Array.from(kept, (life) => numbers[life]!);
  const unit = of(group.entity);
  return other(lives, { unit, units: new Set(unit).size, position: of(group.place) }, question);
}
