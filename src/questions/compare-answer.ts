import type { Answer, LifeGroup } from "./answer.ts";
import type { Estimate } from "./estimate.ts";
import type { Comparison } from "./life-answer.ts";

/** What a life ratio says: beyond 1 for certain, within what does not matter for certain, or neither. */
export type Verdict = "longer" | "shorter" | "no practical difference" | "not enough evidence";

/** What the life ratio is of: lives at the first over lives at the second, all else alike. */
export type Contrast =
  | { kind: "levels"; first: string; second: string }
  | { kind: "values"; first: number; second: number; unit: string | null };

/** A ratio of lives without and with other things held alike, and what it says. */
export type ContrastFound = {
  contrast: Contrast;
  crude: Estimate;
  adjusted: Estimate;
  /** Of the adjusted log ratio, by leaving out units; of several contrasts adjusted after Holm. */
  p: number | null;
  verdict: Verdict;
};

export type Coefficient = {
  term: string;
  scale: "log life" | "log hazard";
  estimate: number;
  /** From the likelihood, which takes lives as independent. */
  se: number;
  robustSe: number | null;
  jackknifeSe: number | null;
  low: number | null;
  high: number | null;
  p: number | null;
};

/** A test whether terms say nothing: by the likelihood, and by leaving out units, which decides. */
export type TermTest = {
  lr: number | null;
  df: number;
  p: number | null;
  robustP: number | null;
  jackknifeP: number | null;
};

export type AdjustedFit = {
  model: "aft" | "ph";
  lives: number;
  failed: number;
  /** How many different units the lives are of, null where that is not known; and what was left out in turn, whichever is the less certain. */
  units: number | null;
  limits: "units left out in turn" | "positions left out in turn" | "likelihood";
  alike: string[];
  coefficients: Coefficient[];
  logLikelihood: number;
  /** Weibull shape of the lives, all else alike. */
  shape: number;
  tests: { effect: TermTest };
};

/** The form of the effect of a measured value. */
export type Form = "flat" | "rising" | "falling" | "best inside" | "curved";

/** How a covariate lies across the bands of the effect: its mean, or the share of a level. */
export type Confounding = {
  covariate: string;
  level: string | null;
  byBand: { band: string; value: number | null }[];
  /** Greatest difference between two bands over the standard deviation within bands; null where it has no bound: bands have nothing in common. */
  difference: number | null;
};

export type BandOfLives = Pick<LifeGroup, "by" | "basis" | "l10" | "median" | "survival">;

export type CompareAnswer = Answer & {
  command: "compare";
  effect: string;
  slot: string | null;
  /** The ratio of lives that would matter. */
  matters: number;
  contrast: Contrast | null;
  lifeRatio: Estimate;
  crude: {
    lifeRatio: Estimate;
    /** All that `life` says of each; of a question in brief no more than is named. */
    bands: BandOfLives[];
    /** Lives at risk just before some round ages, a row for each band. */
    atRisk: { ages: number[]; bands: number[][] };
    comparison: Comparison | null;
  };
  adjusted: AdjustedFit | { reason: string };
  /** Each level against the reference; the one contrast of a measured value. */
  contrasts: ContrastFound[];
  form: Form | null;
  /** The value of the longest life. */
  best: Estimate;
  /** Life over that at the middle of the window, or of the data. */
  curve: { x: number; lifeRatio: number; low: number | null; high: number | null }[];
  /** Values of the lives that the curve rests on. */
  rug: number[];
  nonlinearity: TermTest | null;
  modification: (TermTest & { with: string; adjustedP: number | null })[];
  proportionality: { term: string; statistic: number; df: number; p: number }[];
  /** Of the straight line, corrected for the gauge's error; null where no standard deviation of it is given. `source`: of one from the workspace. */
  gauge: { sd: number; source: string | null; reliability: number; uncorrected: Estimate; lifeRatio: Estimate } | null;
  confounding: Confounding[];
  /** Readings that look copied: why, and the ratio without those at the most frequent value. */
  copied: { reasons: string[]; value: number; lives: number; lifeRatio: Estimate } | null;
  missing: { column: string; lives: number; of: number }[];
  /** The same were each component replaced without evidence taken to have failed. */
  unknownAsFailure: { lifeRatio: Estimate; verdict: Verdict } | null;
  detectable: {
    /** The ratio of lives that these failures would show in four of five cases. */
    ratio: number | null;
    /** Further failures, and months at the rate so far, that would show a ratio. */
    settle: { ratio: number; failures: number; months: number | null }[];
  };
  verdict: Verdict;
};
