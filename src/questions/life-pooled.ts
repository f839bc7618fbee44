import { type PartialPooling, type PooledValue, partialPooling } from "../stats/groups/partial-pooling.ts";
import type { Estimate } from "./estimate.ts";
import { intervalsOf } from "./group-lives.ts";
import type { Comparison, Pooled } from "./life-answer.ts";
import type { Grouped } from "./life-comparison.ts";

/**
 * What the groups of each compared slot borrow from each other; says in the comparison how.
 * @returns for each group by its place; nothing for those that can't borrow
 */
export function pooledGroups(answered: Grouped[], comparisons: Comparison[], level: number): Record<number, Pooled> {
  const found: Record<number, Pooled> = {};
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
      if (group.pooled) found[places[at]!] = { ...pooledOf(group), sensitivity: sensitivityOf(pooling, at) };
      else comparison.reasons.push(`a group can't borrow from the others: ${group.reason}`);
    });
  }
  return found;
}

function placesOf(answered: Grouped[], slot: string | null): number[] {
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
