import type { FamilyName } from "../stats/distribution/family.ts";
import type { Estimate } from "./estimate.ts";

/** How limits are found: by likelihood, by likelihood with a cut-off found by drawing, by leaving out units in turn, by the normal law, by drawing. */
export type IntervalMethod = "profile" | "calibrated" | "clustered" | "wald" | "bootstrap";

/** How the limits of a group were found. */
export type IntervalUsed = {
  /** "chi-square" where the shape is taken as known. */
  method: IntervalMethod | "chi-square";
  /** Sets of lives drawn, and those drawn again because they could not be fitted; null where nothing is drawn. */
  draws: number | null;
  redrawn: number | null;
  seed: number | null;
  /**
   * Clusters left out in turn, and what they are: units, or positions where those make the limits wider; with a seed groups of them, put
   * together by it. Given as well where calibrated limits were held against these and are wider.
   */
  clusters: number | null;
  clusteredBy: "unit" | "position" | null;
  /** Why it is not the method that was asked for, or that is taken where none is. */
  instead: string | null;
};

/** Share unfailed at an age. */
export type Mission = { time: number } & Estimate;

/** Chance that a life now running, unfailed at `age`, is unfailed `further` later. */
export type Conditional = {
  /** What "framelife trace" takes; null in a plain table. */
  id: string | null;
  unit: string | null;
  /** Where the unit is now, which need not be where the life began. */
  position: string | null;
  age: number;
  further: number;
} & Estimate;

/** One damage mode: its life were it alone, and the share of lives that it has ended, the other modes being what they are. */
export type ModeLife = {
  mode: string;
  failed: number;
  shape: Estimate;
  scale: Estimate;
  l10: Estimate;
  /** Steps of the cumulative incidence. */
  incidence: {
    time: number;
    failed: number;
    estimate: number;
    se: number | null;
    low: number | null;
    high: number | null;
  }[];
};

export type Modes = {
  modes: ModeLife[];
  /** How far the product of the modes' own survivals lies from the survival curve of all, at most and where. */
  check: { difference: number | null; time: number | null; reason?: string };
};

export type Line = { shape: number; scale: number; rSquared: number };

/** How well the law describes the lives, beside the paper. */
export type FitChecks = {
  /** Least-squares lines through the points on paper, for comparison; null where there are under two points. */
  ageOnPosition: Line | null;
  positionOnAge: Line | null;
  /** Anderson-Darling, with a p-value by drawing; null where it can't be had, with the reason. */
  andersonDarling: { statistic: number | null; p: number | null; draws: number | null; reason?: string };
  /** The shape less its bias in small samples; null from 20 failures on, or where it can't be had. */
  correctedShape: { raw: number; corrected: number; draws: number } | null;
};

/** Another law for the same lives. */
export type Alternative = {
  distribution: FamilyName;
  logLikelihood: number | null;
  /** Akaike's criterion with the small-sample term; smaller is better. */
  aicc: number | null;
  /** By how much it is below that of the law of the answer; negative where it is worse. */
  gain: number | null;
  /** From 20 failures on, and by over 4. */
  clearlyBetter: boolean;
  reason?: string;
};

/** Catalogue life of the bearings of a slot by ISO 281, and the life seen over it. */
export type Rating = {
  /** What was reckoned with, in words with units and where each number comes from. */
  basis: { name: string; value: string; source: string }[];
  /** Basic and modified rating life in hours; null with the reason where something is missing. */
  l10h: number | null;
  modified: number | null;
  /** L10 seen over the rating life (modified where there is one). */
  ratio: Estimate;
  /** Those of the group's warnings that are of the catalogue life alone. */
  warnings: string[];
  reason?: string;
};

/** The same group's figures when it borrows from the other groups. */
export type Pooled = {
  shape: Estimate;
  scale: Estimate;
  l10: Estimate;
  median: Estimate;
  /** log(pooled L10 / own L10); null where it has none of its own. */
  moved: number | null;
  /** Weight of the group's own lives in its pooled scale, 0 to 1. */
  ownWeight: number;
  /** L10 with the standard deviations of the priors times `factor`; empty where no priors were needed. */
  sensitivity: { factor: number; l10: number }[];
};

/** Life when the shape is taken as known. */
export type AssumedShape = {
  shape: number;
  /** Limits one-sided: `low` alone where nothing failed. */
  scale: Estimate;
  l10: Estimate;
  median: Estimate;
};

/** Tests and ratios between those groups of an answer that are of one slot. */
export type Comparison = {
  /** Null in a plain table. */
  slot: string | null;
  /** Likelihood-ratio tests: one shape for all groups; one law for all. */
  commonShape: { statistic: number; df: number; p: number } | null;
  oneLaw: { statistic: number; df: number; p: number } | null;
  logRank: { statistic: number; df: number; p: number } | null;
  /** L10 of each group over that of `of`, the group with most failures; groups by their place in the answer. */
  ratios: { group: number; of: number; ratio: Estimate }[];
  /** Why something above is missing. */
  reasons: string[];
  /** How groups borrow from each other, where asked for. */
  pooling: { logScaleSd: number; logShapeSd: number; groups: number; priors: string | null } | null;
};
