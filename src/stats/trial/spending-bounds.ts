import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { logNormalTail } from "../distribution/normal-tail.ts";
import { checkedLevel } from "../level.ts";
import { looksRefusal } from "./looks.ts";
import { chancesBeyond, NOT_BEGUN, type StillRunning, walkOn } from "./sequential-walk.ts";

/** A look at a trial, and how far the standardised statistic must lie from 0 to stop it there. */
export type SpendingLook = {
  failures: number;
  /** Of the failures planned, at most 1. */
  share: number;
  /** Error allowed up to and with this look. */
  spent: number;
  /** In standard errors, either side; null with a `reason` where this look may not stop the trial. */
  bound: number | null;
  /** The same as a two-sided p-value that must not be exceeded. */
  p: number | null;
  reason?: string;
};

/** Looks in their order; null with a `reason` where they can't be looks at one trial. */
export type SpendingBounds = { looks: SpendingLook[] } | { looks: null; reason: string };

/** Failures planned, above 0, and the two-sided confidence level, 0.95 where not given. */
export type Spending = { planned: number; level?: number };

/**
 * Two-sided bounds of a group-sequential trial by the spending function 4 - 4 Phi(z(1 - alpha / 4) / sqrt u), alpha = 1 - level, u being
 * the share of the planned failures seen: early looks stop a trial only for much. Looks need not lie where they were planned. One that
 * goes beyond the plan spends all that is left, with its statistic's correlation to earlier ones by the failures really seen; after it none
 * may stop the trial. A trial whose last look comes short of the plan leaves error unspent. By recursive integration, bounds to 1e-5.
 * @param failures - seen at each look, rising
 * @param spending - failures planned, and the level of all looks together
 * @returns a bound for each look
 * @throws RangeError for what is no number of failures, or no level
 * @see K. K. G. Lan & D. L. DeMets, Biometrika 70 (1983) 659-663; P. Armitage, C. K. McPherson & B. C. Rowe, J. R. Statist. Soc. A 132 (1969) 235-244; C. Jennison & B. W. Turnbull, Group Sequential Methods, 2000, ch. 7 and 19
 * @example spendingBounds([25, 50, 75], { planned: 75 }); // bounds 3.710, 2.511, 1.993
 */
export function spendingBounds(failures: readonly number[], { planned, level = 0.95 }: Spending): SpendingBounds {
  if (!(planned > 0 && planned < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot take bounds: the failures planned must be above 0, found ${planned}`);
  }
  const alpha = 1 - checkedLevel(level);
  const reason = looksRefusal(failures);
  if (reason !== null) return { looks: null, reason };
  const looks: SpendingLook[] = [];
  let running: StillRunning = NOT_BEGUN;
  let before = 0;
  for (const [at, seen] of failures.entries()) {
    const share = Math.min(1, seen / planned);
    const spent = spentBy(share, alpha);
    const bound = boundOf(running, seen, spent - before);
    looks.push({ failures: seen, share, spent, ...told(bound, before, alpha) });
    const next = failures[at + 1];
    if (next !== undefined) running = walkOn(running, [seen, next], bound ?? Number.POSITIVE_INFINITY, 0);
    before = spent;
  }
  return { looks };
}

/** Less than this can't be told from nothing. */
const NOTHING = 1e-30;

function spentBy(share: number, alpha: number): number {
  if (share === 1) return alpha;
  return 4 * Math.exp(logNormalTail(normalQuantile(alpha / 4, 0, 1) / Math.sqrt(share)));
}

function told(bound: number | null, before: number, alpha: number): Pick<SpendingLook, "bound" | "p" | "reason"> {
  if (bound !== null) return { bound, p: 2 * Math.exp(logNormalTail(-bound)) };
  const reason =
    before >= alpha ? "earlier looks have spent all of the error" : "so early a look may not stop the trial";
  return { bound, p: null, reason };
}

/** By halving: the chance to lie beyond falls as the bound rises. */
function boundOf(running: StillRunning, seen: number, allowed: number): number | null {
  if (!(allowed > NOTHING)) return null;
  let [low, high] = [0, 40];
  for (let half = 0; half < HALVINGS; half++) {
    const middle = (low + high) / 2;
    const { upper, lower } = chancesBeyond(running, seen, middle, 0);
    if (upper + lower > allowed) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** 40 standard errors come down to 1e-10. */
const HALVINGS = 39;
