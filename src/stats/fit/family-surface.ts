import { emptyTerms, type Family, type Terms } from "../distribution/family.ts";
import { failureMoments } from "../weibull/gathered-terms.ts";
import { addInterval } from "./interval-term.ts";
import type { LogAges, LogTerms } from "./log-terms.ts";
import type { Slopes } from "./slopes.ts";
import { steepest } from "./steepest.ts";
import type { Surface } from "./surface.ts";

/** The likelihood of lives under any family, term by term. */
export function familySurface({ exact, removed, entered, within }: LogTerms, family: Family): Surface {
  const { typicalLog, failures, spread } = failureMoments(
    { z: exact.log, count: exact.count },
    { lowZ: within.low, highZ: within.high, count: within.count },
  );
  const exactLogs = exact.log.reduce((sum, log, term) => sum + exact.count[term]! * log, 0);
  const out = emptyTerms();
  return {
    family,
    typicalLog,
    failures,
    spread,
    at: (a, e) => {
      if (e > steepest(family)) return NOWHERE;
      const sums = emptyTerms();
      sums.value = -exactLogs;
      addAll(sums, exact, 1, (w) => family.logDensity(w, e, out), a, out);
      addAll(sums, removed, 1, (w) => family.logSurvival(w, e, out), a, out);
      addAll(sums, entered, -1, (w) => family.logSurvival(w, e, out), a, out);
      for (let term = 0; term < within.low.length; term++) {
        const [low, high] = [within.low[term]! - a, within.high[term]! - a];
        addInterval(sums, family, { low, high, count: within.count[term]! }, e);
      }
      return slopesOf(sums);
    },
  };
}

const NOWHERE: Slopes = { value: Number.NEGATIVE_INFINITY, a: 0, e: 0, aa: 0, ae: 0, ee: 0 };

function addAll(
  sums: Terms,
  { log, count }: LogAges,
  sign: 1 | -1,
  evaluate: (w: number) => void,
  a: number,
  out: Terms,
): void {
  for (let term = 0; term < log.length; term++) {
    evaluate(log[term]! - a);
    const times = sign * count[term]!;
    sums.value += times * out.value;
    sums.w += times * out.w;
    sums.e += times * out.e;
    sums.ww += times * out.ww;
    sums.we += times * out.we;
    sums.ee += times * out.ee;
  }
}

/** w = log t - a, so that a derivative by a is minus the one by w. */
function slopesOf({ value, w, e, ww, we, ee }: Terms): Slopes {
  return { value: Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value, a: -w, e, aa: ww, ae: -we, ee };
}
