import type { Interval } from "../fit/quantity.ts";
import { checkedLevel } from "../level.ts";
import type { ConvergedWeibull, WeibullFit } from "../weibull/fit.ts";
import { weibullQuantile } from "../weibull/quantile.ts";
import type { SpreadPriors } from "./best-spreads.ts";
import { forPooling } from "./for-pooling.ts";
import type { GatheredGroup, Group } from "./gather-groups.ts";
import { gatherGroup } from "./gather-groups.ts";
import { type GroupPosterior, groupPosterior, logAgeMixture, mixtureInterval, ownWeight } from "./group-posterior.ts";
import { ownFit } from "./own-fit.ts";
import { type FittedPopulation, fitPopulation, type PopulationFigures } from "./population.ts";

/** A pooled value beside the group's own. */
export type PooledValue = Interval & {
  /** Log of pooled over own value; null where the group has no fit of its own. */
  logMoved: number | null;
  /** The same in percent of the own value. */
  percentMoved: number | null;
  /** 0 to 1: share of the uncertainty left by the other groups that the group's own lives take away. */
  ownWeight: number;
};

/** Pooled values of a group, or why the group has none. */
export type PooledGroup =
  | {
      pooled: true;
      failures: number;
      /** The group by itself. */
      own: WeibullFit;
      /** No unit. */
      shape: PooledValue;
      /** In the unit of the lives, as the quantiles are. */
      scale: PooledValue;
      /** Age by which the fraction `p` has failed, for each asked for. */
      quantiles: (PooledValue & { p: number })[];
    }
  | { pooled: false; reason: string; failures: number };

/** Pooled values under other priors of the spreads. */
export type PriorSensitivity = {
  priors: { logScale: number; logShape: number };
  population: PopulationFigures;
  /** In the order of the groups; null where one is not pooled. */
  groups: ({ shape: Interval; scale: Interval; quantiles: (Interval & { p: number })[] } | null)[];
};

/** Pooled groups and what the groups of this kind are like, or why there is no pooling. */
export type PartialPooling =
  | {
      converged: true;
      groups: PooledGroup[];
      population: PopulationFigures;
      /** Priors of the spreads that were used; null: flat from 0. */
      priors: SpreadPriors;
      /** With half and twice the priors' standard deviations; none where the priors are flat, or none was asked for. */
      sensitivity: PriorSensitivity[];
    }
  | { converged: false; reason: string };

/** How to pool. */
export type PoolingOptions = {
  /** Level of the intervals, 0 < level < 1. */
  level: number;
  /** Fractions failed, 0 < p < 1. */
  quantiles: number[];
  /**
   * Standard deviations of half-normal priors on the spreads, or null for none. Where not given: 0.5 (log scale) and 0.3 (log shape)
   * when fewer than six groups have a fit of their own, since so few can't tell a spread; else none.
   */
  priors?: SpreadPriors;
  /** False: don't repeat with other priors, which takes twice as long again. */
  sensitivity?: boolean;
};

/** Fewer groups than this with a fit of their own can't tell the spreads. */
const ENOUGH_GROUPS = 6;
const FEW_GROUPS: SpreadPriors = { logScale: 0.5, logShape: 0.3 };

/**
 * Weibull distributions of groups that are of one kind but not alike: log scales and log shapes are normal over groups,
 * independently. A group with few failures, or none, borrows from the others; one with many keeps its own.
 * Each group's effects are integrated out by quadrature. Intervals are posterior (equal tails, about the median) and carry
 * the uncertainty of the means (flat prior, as normal) and of the spreads (on a grid, with the priors named).
 * @param groups - lives of each group, all in one unit
 * @param options - level, fractions failed, priors of the spreads
 * @returns pooled values, or why there are none
 * @throws RangeError for columns that are not lives, or options outside their range
 * @see Gelman 2006, Bayesian Analysis 1, 515 (priors of spreads); Louis 1982, J. R. Statist. Soc. B 44, 226 (derivatives)
 * @example partialPooling([saltmere, ostrel, vennick], { level: 0.95, quantiles: [0.1, 0.5] });
 */
export function partialPooling(
  groups: Group[],
  { level, quantiles, priors, sensitivity: again = true }: PoolingOptions,
): PartialPooling {
  checkOptions(level, quantiles, priors);
  const gathered = groups.map((group) => forPooling(gatherGroup(group)));
  const own = gathered.map(ownFit);
  const used = priors === undefined ? usualPriors(own) : priors;
  const fitted = fitPopulation(gathered, used);
  if (!fitted.found) return { converged: false, reason: fitted.reason };
  const pooled = poolGroups(gathered, own, fitted.population, { level, quantiles });
  const sensitivity: PriorSensitivity[] = [];
  for (const other of used === null || !again ? [] : [timesPriors(used, 0.5), timesPriors(used, 2)]) {
    const refitted = fitPopulation(gathered, other);
    if (!refitted.found) return { converged: false, reason: refitted.reason };
    const repooled = poolGroups(gathered, own, refitted.population, { level, quantiles });
    sensitivity.push({
      priors: other,
      population: refitted.population.figures(level),
      groups: repooled.map(plainValues),
    });
  }
  return { converged: true, groups: pooled, population: fitted.population.figures(level), priors: used, sensitivity };
}

function checkOptions(level: number, quantiles: number[], priors: SpreadPriors | undefined): void {
  checkedLevel(level);
  for (const p of quantiles) {
    if (!(p > 0 && p < 1)) throw new RangeError(`Cannot pool groups: a fraction failed must lie in (0, 1), found ${p}`);
  }
  if (priors && !(priors.logScale > 0 && priors.logShape > 0)) {
    throw new RangeError(
      `Cannot pool groups: priors' standard deviations must be above 0, found ${Object.values(priors)}`,
    );
  }
}

function usualPriors(own: WeibullFit[]): SpreadPriors {
  return own.filter((fit) => fit.converged).length < ENOUGH_GROUPS ? FEW_GROUPS : null;
}

function timesPriors({ logScale, logShape }: NonNullable<SpreadPriors>, factor: number) {
  return { logScale: factor * logScale, logShape: factor * logShape };
}

type Asked = { level: number; quantiles: number[] };

function poolGroups(
  groups: GatheredGroup[],
  own: WeibullFit[],
  population: FittedPopulation,
  asked: Asked,
): PooledGroup[] {
  let next = 0;
  return groups.map((group, at): PooledGroup => {
    if (!group.usable) return { pooled: false, reason: group.reason, failures: group.failures };
    const { failures } = group.lives;
    const place = next++;
    const posterior = groupPosterior(group.lives, place, population.cells, population.tops[place]!);
    if (posterior === null) return { pooled: false, reason: "its likelihood could not be integrated", failures };
    return { pooled: true, failures, own: own[at]!, ...pooledValues(posterior, own[at]!, asked) };
  });
}

function pooledValues(posterior: GroupPosterior, own: WeibullFit, { level, quantiles }: Asked) {
  const fit = own.converged ? own : null;
  const shape = mixtureInterval(posterior.logShape, level);
  const age = (p: number | null, of: (fit: ConvergedWeibull) => number): PooledValue => {
    const w = p === null ? 0 : Math.log(-Math.log1p(-p));
    const value = mixtureInterval(logAgeMixture(posterior, w), level);
    return {
      ...value,
      ...moved(value, fit === null ? null : of(fit)),
      ownWeight: ownWeight(posterior, [1, -w / shape.estimate]),
    };
  };
  return {
    shape: { ...shape, ...moved(shape, fit === null ? null : fit.shape), ownWeight: ownWeight(posterior, [0, 1]) },
    scale: age(null, ({ scale }) => scale),
    quantiles: quantiles.map((p) => ({ p, ...age(p, (of) => weibullQuantile(p, of.shape, of.scale)) })),
  };
}

function moved({ estimate }: Interval, own: number | null) {
  if (own === null) return { logMoved: null, percentMoved: null };
  const logMoved = Math.log(estimate / own);
  return { logMoved, percentMoved: 100 * Math.expm1(logMoved) };
}

function plainValues(group: PooledGroup): PriorSensitivity["groups"][number] {
  if (!group.pooled) return null;
  const plain = ({ estimate, low, high }: Interval): Interval => ({ estimate, low, high });
  return {
    shape: plain(group.shape),
    scale: plain(group.scale),
    quantiles: group.quantiles.map((value) => ({ p: value.p, ...plain(value) })),
  };
}
