import type { Estimate } from "./estimate.ts";

/** A test for trend; null with the reason where the records do not allow it. */
export type TrendTest = {
  statistic: number | null;
  /** Two-sided. */
  p: number | null;
  /** Where the statistic points, however large its p. */
  direction: "deteriorating" | "improving" | null;
  /** Events, or times between them, that it rests on, and units that they are of. */
  events: number;
  units: number;
  reason?: string;
};

export type Trend = {
  laplace: TrendTest;
  milHdbk189: TrendTest;
  lewisRobinson: TrendTest;
  reverseArrangements: TrendTest;
};

/** Power-law process of the unit's age; what does not exist is null, with the reason. */
export type PowerLaw = {
  /** Above 1: rebuilds come closer together as units age. */
  shape: Estimate;
  /** Age up to which a unit has one rebuild on average. */
  scale: Estimate;
  logLikelihood: number | null;
  /** Test of a constant rate. */
  constantRate: { statistic: number; p: number } | null;
  /** Mean time between rebuilds of a unit of the age reached by the oldest, were the rate to stay as it is there. */
  now: { age: number; meanTime: Estimate } | null;
  /** Cramer-von Mises, p by sets drawn from the law. */
  fit: { statistic: number | null; p: number | null; draws: number; reason?: string } | null;
  /** Units whose age is not known, or of whom a stretch is missing: left out. */
  leftOut: number;
};

/** How good a unit is after a rebuild: 0 as new, 1 as before it. */
export type DegreeOfRepair = {
  /** Kijima's virtual age: "I" takes back of the time since the rebuild before, "II" of all wear so far; the one that fits better. */
  model: "I" | "II" | null;
  degree: Estimate;
  /** Where the degree lies at an end of its range. */
  atBoundary: "new" | "before" | null;
  /** Weibull shape and scale of the first life. */
  shape: Estimate;
  scale: Estimate;
  logLikelihood: number | null;
  /** Twice the log-likelihood that the other model falls short by. */
  otherModelShort: number | null;
  tests: { new: { statistic: number; p: number }; before: { statistic: number; p: number } } | null;
  /** The likelihood still rises at "as before": rebuilt units may be worse than before. */
  worseThanBefore: boolean;
  /** Rests on under 30 rebuilds: one way of reading them, no finding. */
  sensitivityOnly: boolean;
  rebuilds: number;
  units: number;
  /** Units whose history since new is not on record in full. */
  leftOut: number;
  /** Rebuilds at one age, taken as one. */
  merged: number;
  /** The answer in words. */
  says: string;
};

/** Mean number of rebuilds of a unit of the first group less that of the second. */
export type MeanDifference = {
  group: number;
  against: number;
  /** At the highest service that both were watched to. */
  atEnd: { time: number; difference: Estimate } | null;
  steps: {
    time: number;
    means: [number, number];
    estimate: number;
    se: number;
    low: number | null;
    high: number | null;
  }[];
  /** Rebuilds at service to which only one of the two was watched: not compared. */
  leftOut: number;
  reason?: string;
};
