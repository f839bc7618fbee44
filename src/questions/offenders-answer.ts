import type { Answer } from "./answer.ts";
import type { Estimate } from "./estimate.ts";

/** What may be an offender. Not a fitter: answers do not set people against each other. */
export const ENTITY_KINDS = ["unit", "position", "model", "site", "batch"] as const;
export type EntityKind = (typeof ENTITY_KINDS)[number];

type Verdict = "offender" | "watch" | "within chance";

/** Damage found at an entity's failures, beside that at all others of its fleet. */
export type DamageProfile = {
  modes: { mode: string; own: number; others: number }[];
  /** Exact test of the one against the other; null with the reason where there is too little. */
  p: number | null;
  reason?: string;
};

/** Whether it is the frame or the place that brings it back. */
export type UnitOrPosition = {
  fleet: string | null;
  unit: string;
  position: string;
  /** Of the two together. */
  events: number;
  expected: number;
  /** Rate of the frame wherever it ran, and of the place whatever frame ran there, each over the fleet's, the other allowed for. */
  frame: Estimate;
  place: Estimate;
  /** Correlation of the two in what is known of them: near -1 they can't be told apart. */
  correlation: number;
  /** Frames that moved between positions, in the part of the fleet that these two belong to. */
  moves: number;
  verdict: "place" | "frame" | "both" | "neither" | "untold";
  /** The same in words. */
  says: string;
};

export type Entity = {
  fleet: string | null;
  id: string;
  events: number;
  /** Rebuilds for another reason than failure. */
  planned: number;
  /** Failures to be expected of it at the ages that it ran through, by all others of its fleet. */
  expected: number;
  /** Service under observation. */
  exposure: number;
  /** Failures over service, with exact limits. */
  rate: Estimate;
  /** The rate after shrinkage to its fleet's by one gamma distribution. */
  shrunkenRate: Estimate;
  /** Failures over those expected, over what is ordinary, after shrinkage to the group that it may belong to. */
  shrunkenRatio: Estimate;
  /** Chance that it belongs to the ordinary ones; null where two groups can't be told. */
  probabilityOrdinary: number | null;
  /** Chance of so many failures or more of an ordinary one, and the same adjusted for looking at all of the fleet (Benjamini-Hochberg). */
  pValue: number | null;
  adjustedP: number | null;
  verdict: Verdict;
  /** Of offenders and those to watch. */
  damage: DamageProfile | null;
};

/** What the entities of one fleet were judged by. */
export type JudgedFleet = {
  fleet: string | null;
  entities: number;
  events: number;
  exposure: number;
  /** Spread of the ordinary ones' rates, as a share of their mean, and where it was found. */
  ordinarySpread: number | null;
  spreadFrom: "this fleet" | "all fleets" | null;
  /** Share of offenders in the fitted mixture, and how many times the ordinary rate theirs is. */
  offenderShare: number | null;
  offenderRatio: number | null;
  /** Twice the gain in log-likelihood of two groups over one; verdicts need 6. */
  gain: number | null;
  /** The gamma distribution of rates behind the shrunken rates; null where one rate fits as well. */
  prior: { shape: number; rate: number; mean: number } | null;
  /** Weibull shape of the times between failures, by which chance is reckoned where it is not 1. */
  renewalShape: Estimate;
  chanceBy: "Poisson counts" | "renewal counts" | null;
  falseNamesExpected: number;
  reason?: string;
};

export type OffendersAnswer = Answer & {
  command: "offenders";
  /** What was looked at. */
  by: EntityKind;
  slot: string | null;
  fleets: JudgedFleet[];
  /** Most certain first. */
  entities: Entity[];
  /** Of all names in the list, how many are to be expected to be wrong. */
  falseNamesExpected: number;
  unitOrPosition: UnitOrPosition[];
};
