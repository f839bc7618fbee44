import type { FamilyName } from "../stats/distribution/family.ts";
import type { MeanCountStep } from "../stats/recurrence/mean-count.ts";
import type { Estimate } from "./estimate.ts";
import type {
  Alternative,
  AssumedShape,
  Comparison,
  Conditional,
  FitChecks,
  IntervalUsed,
  Mission,
  Modes,
  Pooled,
  Rating,
} from "./life-answer.ts";
import type { DegreeOfRepair, MeanDifference, PowerLaw, Trend } from "./recurrence-answer.ts";

/** What an answer rests on. `lives` is the number used; `leftOut` counts those that could not be, by reason. */
export type Basis = {
  lives: number;
  failed: number;
  suspended: number;
  running: number;
  unknown: number;
  leftOut: Record<string, number>;
};

export type Clock = "hours" | "days";

/** What every answer has. Text, JSON, CSV and charts are all made from the one object. */
export type Answer = {
  schema: 1;
  command: string;
  /** One sentence that can be repeated in a meeting. */
  answer: string;
  /** Day up to which events were looked at; null for a plain table. */
  asOf: string | null;
  clock: Clock | null;
  level: number;
  basis: Basis;
  warnings: string[];
  /** The command line that lists the records behind the answer. */
  rows: string;
};

/** Values of the `--by` columns that make a group: `{ fleet: "saltmere", slot: "drive_end_bearings" }`. */
export type By = Record<string, string>;

export type SurvivalStep = {
  time: number;
  /** At risk just before `time`. */
  atRisk: number;
  failed: number;
  estimate: number;
  se: number | null;
  low: number | null;
  high: number | null;
};

export type LifeGroup = {
  by: By;
  basis: Basis;
  shape: Estimate;
  scale: Estimate;
  l10: Estimate;
  median: Estimate;
  mean: Estimate;
  logLikelihood: number | null;
  /** Of (log scale, log shape). */
  covariance: [[number, number], [number, number]] | null;
  distribution: FamilyName;
  interval: IntervalUsed;
  /** Lives that are known to have failed within an interval only; where there are any, no survival curve or paper is given. */
  intervalCensored: number;
  /** Empty, as the other curves and the points are, where over 50 groups are asked of at once. */
  survival: SurvivalStep[];
  /**
   * Where failures are known by an interval: the curve of greatest likelihood without a law (Turnbull). Somewhere between `low` and `high` the
   * share unfailed falls from `before` to `after`; where, the records do not say. Empty where all ends are known.
   */
  turnbull: { low: number; high: number; before: number; after: number }[];
  /** Age where the survival curve starts: above 0 where lives enter late; null where there is no curve. */
  survivalFrom: number | null;
  quantiles: ({ p: number } & Estimate)[];
  /** Share unfailed at the ages asked for. */
  mission: Mission[];
  /** Of each running life, for the ages asked for. */
  conditional: Conditional[];
  /** By damage mode; null where not asked for. */
  modes: Modes | null;
  fit: FitChecks | null;
  /** Other laws, best first; empty where none was looked at. */
  alternatives: Alternative[];
  /** Against the catalogue; null where not asked for. */
  rating: Rating | null;
  /** Borrowing from the other groups; null where not asked for. */
  pooled: Pooled | null;
  /** With the shape taken as known: the one asked for, or several where failures are too few to fit it; empty else. */
  assumedShape: AssumedShape[];
  /** Points of the failures for probability paper: exact median ranks of adjusted ranks; under late entry the middles of the steps, with no rank. */
  paper: { time: number; rank: number | null; fractionFailed: number }[];
  /** Fraction failed by the fitted line, with its pointwise limits. */
  line: { time: number; fractionFailed: number; low: number | null; high: number | null }[];
  /** The same figures with lives of unknown ending taken as failed; null where there are none. */
  unknownAsFailed: { l10: Estimate; median: Estimate } | null;
  /** The same figures with running lives stopped at the last evidence of any kind; null where no life is assumed to be running. */
  lastSeen: { l10: Estimate; median: Estimate } | null;
  warnings: string[];
};

export type LifeAnswer = Answer & {
  command: "life";
  groups: LifeGroup[];
  /** Of each slot that has several groups. */
  comparisons: Comparison[];
};

export type IntervalsGroup = {
  by: By;
  units: number;
  exposure: number;
  events: { failure: number; planned: number };
  /** Mean time between rebuilds: exposure over events, all kinds, and failures and planned ones apart. */
  mtbr: { all: Estimate; failure: Estimate; planned: Estimate };
  /** The mean time between failures with rebuilds that give no reason taken as failures; null where there are none. */
  unknownAsFailure: { failure: Estimate } | null;
  /** The same figures with open stretches stopped at the last evidence of any kind; null where none is only assumed to run on. */
  lastSeen: { all: Estimate; failure: Estimate } | null;
  survival: SurvivalStep[];
  /** Median time to the next rebuild of the kind counted, from the survival curve of intervals. */
  medianInterval: Estimate;
  mcf: MeanCountStep[];
  /** Whether rebuilds of the kind counted come closer together or further apart as service goes on, pooled over units. */
  trend: Trend;
  /** Mean number of rebuilds of a unit by its age, (age / scale)^shape, and what follows. */
  powerLaw: PowerLaw;
  degreeOfRepair: DegreeOfRepair;
  basis: Basis;
  warnings: string[];
};

export type IntervalsAnswer = Answer & {
  command: "intervals";
  groups: IntervalsGroup[];
  /** Mean number of rebuilds of a unit of one group less that of another, by service; groups by their place in the answer. */
  differences: MeanDifference[];
};
