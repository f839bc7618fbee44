import type { Family } from "../distribution/family.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import { failureMoments } from "../weibull/gathered-terms.ts";
import { familySurface } from "./family-surface.ts";
import type { LogTerms } from "./log-terms.ts";
import type { Surface } from "./surface.ts";
import { weibullSurface } from "./weibull-surface.ts";

/**
 * The surface of terms that are summed up already, by the fastest way the family has.
 * @param typicalLog - about which ages are taken; the mean log age at failure where not given: needed where there is no failure
 */
export function termsSurface(terms: LogTerms, family: Family, typicalLog?: number): Surface {
  return family.name === "weibull" ? weibullSurface(gathered(terms, typicalLog)) : familySurface(terms, family);
}

function gathered({ exact, removed, entered, within }: LogTerms, wanted?: number): GatheredLives {
  const moments = failureMoments(
    { z: exact.log, count: exact.count },
    { lowZ: within.low, highZ: within.high, count: within.count },
  );
  const typicalLog = wanted ?? moments.typicalLog;
  const size = exact.log.length + removed.log.length + entered.log.length;
  const z = new Float64Array(size);
  const weight = new Float64Array(size);
  let exactSum = 0;
  let term = 0;
  for (let at = 0; at < exact.log.length; at++, term++) {
    z[term] = exact.log[at]! - typicalLog;
    weight[term] = exact.count[at]!;
    exactSum += weight[term]! * z[term]!;
  }
  for (let at = 0; at < removed.log.length; at++, term++) {
    z[term] = removed.log[at]! - typicalLog;
    weight[term] = removed.count[at]!;
  }
  for (let at = 0; at < entered.log.length; at++, term++) {
    z[term] = entered.log[at]! - typicalLog;
    weight[term] = -entered.count[at]!;
  }
  return {
    typicalLog,
    spread: moments.spread,
    failures: moments.failures,
    exact: moments.ofExact.count,
    exactSum,
    z,
    weight,
    lowZ: within.low.map((log) => log - typicalLog),
    highZ: within.high.map((log) => log - typicalLog),
    width: within.low.map((log, at) => within.high[at]! - log),
    intervalCount: within.count,
  };
}
