import { familyOf } from "../distribution/families.ts";
import { exactLikelihood } from "../weibull/log-likelihood.ts";
import type { LivesBySeries } from "../weibull/wide-series.ts";
import type { Surface } from "./surface.ts";
import { carriedSlopes, levelAndShape } from "./weibull-surface.ts";

/**
 * The Weibull likelihood of lives whose hazard sums are known by series.
 * @param beyond - makes the same surface term by term, for points that no series reaches
 */
export function seriesSurface(lives: LivesBySeries & { spread: number }, beyond: () => Surface): Surface {
  const { typicalLog, exact, spread } = lives;
  let whole: Surface | undefined;
  return {
    family: familyOf("weibull"),
    typicalLog,
    failures: exact,
    spread,
    bySeries: lives,
    at: (a, e) => {
      const point = levelAndShape({ a, e }, typicalLog);
      const sums = { zero: 0, one: 0, two: 0 };
      if (lives.sumsAt(point.level, point.shape, sums))
        return carriedSlopes(exactLikelihood(sums, lives, point), point);
      whole ??= beyond();
      return whole.at(a, e);
    },
  };
}
