import { type PartialPooling, type PooledValue, partialPooling } from "../stats/groups/partial-pooling.ts";
import type { Estimate } from "./estimate.ts";
import { intervalsOf } from "./group-lives.ts";
import type { Comparison, Pooled } from "./life-answer.ts";
import type { Answered } from "./life-comparison.ts";

/** Gives the groups of each compared slot what they borrow from each other, and the comparison how. */
export function addPooled(answered: Answered[], comparisons: Comparison[], level: number): void {
  for (const comparison of comparisons) {
    const places = placesOf(answered, comparison.slot);
    const lives = places.map((place) => intervalsOf(answered[place]!.lives));
    const pooling = partialPooling(lives, { level, quantiles: [0.1, 0.5] });
    if (!pooling.converged) {
      comparison.reasons.push(`groups can't borrow from each other: ${pooling.reason}`);
      continue;
    }
    comparison.pooling = howPooled(pooling, places.length);
    pooling.groups.forEach((group, at) => {
      const place = places[at]!;
      if (group.pooled) answered[place]!.group.pooled = { ...pooledOf(group), sensitivity: sensitivityOf(pooling, at) };
      else comparison.reasons.push(`a group can't borrow from the others: ${group.reason}`);
    });
  }
}

function placesOf(answered: Answered[], slot: string | null): number[] {
  return answered.flatMap(({ group }, place) => ((group.by["slot"] ?? null) === slot ? [place] : []));
}

type Converged = Extract<PartialPooling, { converged: true }>;

function howPooled({ population, priors }: Converged, groups: number): Comparison["pooling"] {
  return {
    logScaleSd: population.logScaleSpread.estimate,
    logShapeSd: population.logShapeSpread.estimate,
    groups,
    priors:
      priors === null
        ? null
        : `so few groups can't tell by how much they differ: half-normal priors of standard deviation ${priors.logScale} on the spread of log life and ${priors.logShape} on that of log shape`,
  };
}

function sensitivityOf({ priors, sensitivity }: Converged, at: number): Pooled["sensitivity"] {
  return sensitivity.flatMap((other) => {
    const l10 = other.groups[at]?.quantiles[0]?.estimate;
    return l10 === undefined || priors === null ? [] : [{ factor: other.priors.logScale / priors.logScale, l10 }];
  });
}

type PooledGroup = Extract<Converged["groups"][number], { pooled: true }>;

function pooledOf({ shape, scale, quantiles }: PooledGroup): Omit<Pooled, "sensitivity"> {
  const [l10, median] = quantiles;
  return {
    shape: plain(shape),
    scale: plain(scale),
    l10: plain(l10!),
    median: plain(median!),
    moved: l10!.logMoved,
    ownWeight: scale.ownWeight,
  };
}

function plain({ estimate, low, high }: PooledValue): Estimate {
  return { estimate, low, high };
}
