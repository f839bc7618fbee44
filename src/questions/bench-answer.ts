import type { RunRule } from "../stats/measurements/run-rules.ts";
import type { Answer, By } from "./answer.ts";
import type { FieldCompleteness } from "./audit-types.ts";
import type { FoundPart } from "./dossier-types.ts";
import type { Estimate } from "./estimate.ts";
import type { Bin } from "./reading-bins.ts";

/** What an answer of the bench rests on: builds, those with a reading, those whose time in service is known; `leftOut` from the latter. */
export type BenchBasis = { builds: number; readings: number; followed: number; leftOut: Record<string, number> };

/** What as-built values are held against: the workspace's window in the unit of the values. */
export type BenchWindow = { low: number; high: number; source: string | null };

/** A share of builds, with the counts behind it; of what could not be told the estimate is null, with the reason. */
export type BenchShare = Estimate & { count: number; of: number };

/** The builds of one month, model or other column. */
export type BenchSplit = {
  by: string;
  value: string;
  builds: number;
  readings: number;
  mean: number | null;
  outside: BenchShare;
  /** Back for failure inside the limit; `of` counts the builds whose time in service is known. */
  comebacks: BenchShare;
};

/** One reading on the individuals chart, in the order of building. */
export type BenchPoint = {
  value: number;
  /** Day built; null where the card does not say. */
  on: string | null;
  unit: string | null;
  card: string;
  outside: "below" | "above" | null;
  /** Difference from the reading before it. */
  range: number | null;
  /** Run rules that it breaks. */
  breaks: RunRule[];
};

export type BenchChart = {
  /** From the readings themselves; null with the reason. */
  limits: { centre: number; sigma: number; low: number; high: number; range: { centre: number; high: number } } | null;
  reason: string | null;
  /** The latest readings, `readings` in all. */
  points: BenchPoint[];
  readings: number;
  /** Readings that break a rule, of all; and how many would by chance alone. */
  breaks: number;
  breaksByChance: number;
  byRule: { rule: RunRule; readings: number }[];
};

export type BenchAsBuilt = {
  /** Unit of the values; null of a plain table. */
  unit: string | null;
  window: BenchWindow | null;
  readings: number;
  below: number;
  above: number;
  outside: BenchShare;
  mean: number | null;
  sd: number | null;
  /** Bars of equal width, those that hold a reading. */
  histogram: Bin[];
  chart: BenchChart;
  /** How much of what readings differ by is between fitters: one share, no figure of any. Null with the reason. */
  betweenFitters: {
    fitters: number;
    readings: number;
    share: Estimate;
    betweenSd: number;
    withinSd: number;
    p: number;
  } | null;
  betweenFittersReason: string | null;
  /** Why readings look copied rather than taken; empty where they don't. */
  copied: string[];
};

/** A card whose shims and reading disagree. */
export type ShimFlag = {
  card: string;
  unit: string | null;
  on: string | null;
  /** What the end play should be by the depth and spigot (or the play without shims) and the shims; and the reading. */
  expected: number;
  reading: number;
  difference: number;
  from: "race depth and spigot height" | "play without shims";
  trace: string;
};

export type ShimCheck = {
  /** What shims do to the end play. */
  shims: "take_up" | "add";
  checked: number;
  /** Builds that lack a measure for it. */
  lacking: number;
  /** Largest difference that errors of the gauge explain, by how many readings the check takes; and the deviation it rests on. */
  allowed: { withDepth: number; withPlay: number };
  gaugeSd: number | null;
  /** Mean of reading less expected; away from 0 all cards are off alike. */
  meanDifference: Estimate;
  flagged: ShimFlag[];
  flaggedInAll: number;
};

/** A build that came back for failure inside the limit. */
export type Comeback = {
  unit: string;
  position: string | null;
  card: string;
  builtOn: string | null;
  installedOn: string;
  backOn: string;
  days: number;
  endPlay: number | null;
  outside: boolean;
  failedSlot: string | null;
  found: FoundPart[];
  trace: string;
};

export type BenchComebacks = {
  /** Back for failure within so many days counts. */
  limit: number;
  /** `of`: builds whose time in service is known; planned ends compete, short follow-up counts as far as it goes. */
  share: BenchShare;
  planned: number;
  stillFollowed: number;
  /** Builds that came back inside the limit with nothing said of why; and the share with them taken as failures. */
  unknown: number;
  unknownAsFailure: BenchShare | null;
  /** The latest, of `share.count` in all. */
  list: Comeback[];
};

export type BenchGroup = {
  by: By;
  title: string;
  basis: BenchBasis;
  asBuilt: BenchAsBuilt;
  /** Null of a plain table. */
  shims: ShimCheck | null;
  comebacks: BenchComebacks | null;
  splits: BenchSplit[];
  /** How complete the cards are, field by field and month by month. */
  completeness: FieldCompleteness[];
};

/** What leaves the bench, and what comes back to it. */
export type BenchAnswer = Omit<Answer, "basis"> & {
  command: "bench";
  basis: BenchBasis;
  /** The fitter whose own builds these are; null of all. */
  fitter: string | null;
  groups: BenchGroup[];
};
