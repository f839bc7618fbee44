import { lifeRatio } from "../stats/regression/life-ratio.ts";
import { logRank } from "../stats/survival/log-rank.ts";
import { reRandomisedLogRank } from "../stats/trial/re-randomisation.ts";
import { effectFit } from "./compare-fit.ts";
import type { Estimate } from "./estimate.ts";
import type { TrialComparison } from "./trial-answer.ts";
import type { TrialBuilds } from "./trial-builds.ts";

/** With fewer failures the usual law of the log-rank statistic is too rough. */
const FEW_FAILURES = 10;
/** Limits nearer to certainty than this say nothing. */
const SUREST = 1 - 1e-6;

/**
 * The lives of the two arms set against each other within strata.
 * @param arm - of each build 0 or 1; any other is left out
 * @param asked - level of the limits, null where none are wanted; whether arms are those that chance assigned
 */
export function trialComparison(
  builds: TrialBuilds,
  arm: Int32Array,
  { level, seed, randomised }: { level: number | null; seed: number; randomised: boolean },
): TrialComparison {
  const rows = Int32Array.from(arm.keys()).filter((row) => arm[row] === 0 || arm[row] === 1);
  const of = (column: Int32Array) => Int32Array.from(rows, (row) => column[row]!);
  const lives = {
    time: Float64Array.from(rows, (row) => builds.time[row]!),
    failed: Uint8Array.from(rows, (row) => builds.failed[row]!),
  };
  const [group, stratum] = [of(arm), of(builds.stratum)];
  const usual = logRank(lives, { group, groups: 2, stratum });
  const failures = lives.failed.reduce((sum, one) => sum + one, 0);
  const drawn =
    randomised && failures < FEW_FAILURES && builds.block !== null
      ? reRandomisedLogRank(lives, { arm: group, arms: 2, block: of(builds.block), stratum }, { seed })
      : null;
  const { p, reason } = drawn ?? usual;
  const fit = { lives, group, stratum, unit: of(builds.unit) };
  return {
    arms: usual.groups.map(({ lives: made, failures: failed, expected }, place) => ({
      arm: builds.arms[place]!,
      builds: made,
      failed,
      expected,
    })),
    lifeRatio: ratioOf(fit, level, seed),
    p,
    by: drawn === null ? "log-rank" : "re-randomisation",
    ...(p === null && { reason: reason ?? "the arms can't be compared" }),
  };
}

type Fit = {
  lives: { time: Float64Array; failed: Uint8Array };
  group: Int32Array;
  stratum: Int32Array;
  unit: Int32Array;
};

/** Of the first arm's lives over the second's, by hazards within strata turned by the Weibull shape. */
function ratioOf({ lives: { time, failed }, group, stratum, unit }: Fit, level: number | null, seed: number): Estimate {
  const high = time.map((end, at) => (failed[at] === 1 ? end : Number.POSITIVE_INFINITY));
  const sure = level !== null && level < SUREST;
  const fit = effectFit({
    lives: { low: time, high },
    effect: [{ name: "arm", values: Float64Array.from(group, (arm) => (arm === 0 ? 1 : 0)) }],
    others: [],
    model: "ph",
    stratum,
    unit,
    place: new Int32Array(unit.length).fill(-1),
    main: [1],
    level: sure ? level : 0.95,
    seed,
  });
  if ("reason" in fit) return { estimate: null, low: null, high: null, reason: fit.reason };
  const { estimate, low, high: up } = lifeRatio(fit.contrast([1]));
  return sure ? { estimate, low, high: up } : { estimate, low: null, high: null };
}
