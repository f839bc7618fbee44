import type { Family } from "../distribution/family.ts";
import type { GatheredLives } from "../weibull/gathered-lives.ts";
import type { LivesBySeries } from "../weibull/wide-series.ts";
import type { Slopes } from "./slopes.ts";

/** The log-likelihood of a set of lives under a family, as a surface over (log scale, log shape). */
export type Surface = {
  family: Family;
  /** Mean log age at failure. */
  typicalLog: number;
  /** Failures of any kind. */
  failures: number;
  /** Standard deviation of the log ages at failure. */
  spread: number;
  /** The lives as the Weibull kernels take them. */
  gathered?: GatheredLives;
  /**
   * The hazard sums of the lives by series, where those are known.
   * @hidden
   */
  bySeries?: LivesBySeries;
  /** Of the ages themselves, no constant dropped; -Infinity where the lives can't come from that distribution. */
  at(a: number, e: number): Slopes;
};
