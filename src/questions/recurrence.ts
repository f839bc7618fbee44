import { fitPowerLaw } from "../stats/recurrence/power-law.ts";
import { powerLawGoodness } from "../stats/recurrence/power-law-goodness.ts";
import { powerLawRate } from "../stats/recurrence/power-law-rate.ts";
import { powerLawScale } from "../stats/recurrence/power-law-scale.ts";
import type { RecurrentEvents } from "../stats/recurrence/recurrent-events.ts";
import type { TrendTest as FoundTest } from "../stats/recurrence/trend/trend-test.ts";
import { trendTests } from "../stats/recurrence/trend/trend-tests.ts";
import type { Estimate } from "./estimate.ts";
import type { GroupOfHistories } from "./group-histories.ts";
import type { PowerLaw, Trend, TrendTest } from "./recurrence-answer.ts";
import { agedEvents, whileWatched } from "./service-histories.ts";

const DRAWS = 999;

/** The four tests for trend of one group. */
export function trendOf(events: RecurrentEvents): Trend {
  const { laplace, powerLaw, lewisRobinson, reverseArrangements } = trendTests(events);
  return {
    laplace: plain(laplace),
    milHdbk189: plain(powerLaw),
    lewisRobinson: plain(lewisRobinson),
    reverseArrangements: plain(reverseArrangements),
  };
}

function plain({ statistic, p, direction, events, units, reason }: FoundTest): TrendTest {
  return { statistic, p, direction, events, units, ...(reason !== undefined && { reason }) };
}

/** The power law of the ages of one group's units. */
export function powerLawOf(
  group: GroupOfHistories,
  counted: ReadonlySet<number>,
  { level, seed, closely }: { level: number; seed: number; closely: boolean },
): PowerLaw {
  const { events, leftOut } = agedEvents(group, counted);
  const watched = whileWatched(events);
  const fit = fitPowerLaw(watched, { level });
  if (!fit.converged) {
    const reason = events.end.length === 0 && leftOut > 0 ? "of no unit is the age known" : fit.reason;
    const none: Estimate = { estimate: null, low: null, high: null, reason };
    return { shape: none, scale: none, logLikelihood: null, constantRate: null, now: null, fit: null, leftOut };
  }
  const goodness = closely ? powerLawGoodness(watched, { draws: DRAWS, seed }) : null;
  const { statistic, p } = fit.constantRate;
  return {
    shape: fit.profileLimits,
    scale: powerLawScale(fit, level),
    logLikelihood: fit.logLikelihood,
    constantRate: { statistic, p },
    now: { age: fit.lastEnd, meanTime: powerLawRate(fit, fit.lastEnd, level).meanTime },
    fit: goodness && {
      statistic: goodness.statistic,
      p: goodness.pValue,
      draws: goodness.draws,
      ...(goodness.reason !== undefined && { reason: goodness.reason }),
    },
    leftOut,
  };
}
