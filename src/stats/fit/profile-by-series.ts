import { familyOf } from "../distribution/families.ts";
import type { HazardSums } from "../weibull/log-likelihood.ts";
import type { LivesBySeries } from "../weibull/wide-series.ts";
import type { Quantity } from "./quantity.ts";

/** The log hazard at the typical age by log shape, with its derivatives, where a quantity is held. */
type HeldLevel = { level: number; first: number; second: number };
type AtShape = (logShape: number, out: HeldLevel) => void;

const MOST_STEPS = 30;
const LONGEST_STEP = 1;
/** After a Newton step this small the likelihood it leads to is known to rounding. */
const SMALL_STEP = 1e-5;

/**
 * Greatest Weibull log-likelihood of lives with a quantity held, as `profileAt` finds it: for lives whose hazard sums are known by series, and in
 * plain numbers, since a calibration asks for it a thousand times.
 * @param quantity - what is held
 * @param held - its value, on the working scale
 * @returns what looks for it from a log shape; NaN where it is not found
 */
export function profileBySeries(
  quantity: Quantity,
  held: number,
): ((lives: LivesBySeries, logShape: () => number) => number) | null {
  if (quantity.kind === "shape") return (lives) => atShape(lives, held);
  const levelAt = levelHeld(quantity, held);
  return levelAt === null ? null : (lives, logShape) => along(lives, levelAt(lives.typicalLog), logShape());
}

const sums: HazardSums = { zero: 0, one: 0, two: 0 };
const at: HeldLevel = { level: 0, first: 0, second: 0 };

/** The level then makes the failures expected those seen. */
function atShape(lives: LivesBySeries, logShape: number): number {
  const { exact, exactSum, typicalLog } = lives;
  const shape = Math.exp(logShape);
  if (!(lives.sumsAt(0, shape, sums) && sums.zero > 0)) return Number.NaN;
  return exact * (Math.log(exact / sums.zero) + logShape - typicalLog) + (shape - 1) * exactSum - exact;
}

/** Newton steps along the curve, on which the likelihood is that of a hill. */
function along(lives: LivesBySeries, levelAt: AtShape, start: number): number {
  const { exact, exactSum, typicalLog } = lives;
  let logShape = start;
  for (let step = 0; step < MOST_STEPS; step++) {
    const shape = Math.exp(logShape);
    levelAt(logShape, at);
    const { level, first, second } = at;
    if (!lives.sumsAt(level, shape, sums)) return Number.NaN;
    const { zero } = sums;
    const one = shape * sums.one;
    const two = shape * shape * sums.two;
    const slope = exact * (first + 1) + shape * exactSum - first * zero - one;
    const bend = (exact - zero) * second + shape * exactSum - one - first * first * zero - 2 * first * one - two;
    const newton = -slope / bend;
    if (!(bend < 0 && Math.abs(newton) < LONGEST_STEP)) return Number.NaN;
    if (Math.abs(newton) < SMALL_STEP) {
      return exact * (level + logShape - typicalLog) + (shape - 1) * exactSum - zero + (slope * newton) / 2;
    }
    logShape += newton;
  }
  return Number.NaN;
}

/** Null for quantities that are left to the general way. */
function levelHeld(quantity: Quantity, held: number): ((typicalLog: number) => AtShape) | null {
  switch (quantity.kind) {
    case "scale":
      return (typicalLog) => through(0, held - typicalLog);
    case "quantile":
      return (typicalLog) => through(Math.log(-Math.log1p(-quantity.p)), held - typicalLog);
    case "survival":
      return (typicalLog) => through(held, Math.log(quantity.time) - typicalLog);
    case "mean":
      return (typicalLog) => withMean(held - typicalLog);
    case "shape":
    case "conditional":
      return null;
  }
}

/** The distributions whose log hazard at an age is `logHazard`. */
function through(logHazard: number, place: number): AtShape {
  return (logShape, out) => {
    const carried = -Math.exp(logShape) * place;
    out.level = logHazard + carried;
    out.first = carried;
    out.second = carried;
  };
}

/** Those of one log mean: the log scale is that less the mean's part that the shape makes. */
function withMean(logMean: number): AtShape {
  return (logShape, out) => {
    const shape = Math.exp(logShape);
    const { value, e, ee } = weibull.logMean(logShape)!;
    out.level = -shape * (logMean - value);
    out.first = out.level + shape * e;
    out.second = out.level + shape * (2 * e + ee);
  };
}

const weibull = familyOf("weibull");
