import type { LengthUnit } from "../workspace/lengths.ts";
import type { IntervalsAnswer, LifeAnswer, LifeGroup } from "./answer.ts";
import type { BenchAnswer } from "./bench-answer.ts";
import type { CompareAnswer } from "./compare-answer.ts";
import type { BuildEnd, Dossier } from "./dossier-types.ts";
import type { Comparison } from "./life-answer.ts";
import type { OffendersAnswer } from "./offenders-answer.ts";

/** How one life ended, as far as it was followed. */
export type Ended = "failed" | "suspended" | "running" | "unknown";

/** The usable lives of one slot on the clock of the life answer; arrays of one length, at risk when entry < t <= time. */
export type SlotLives = { slot: string; entry: ArrayLike<number>; time: ArrayLike<number>; ended: Ended[] };

/** One build at one position, from its installation to the next rebuild or the end of follow-up; dates as YYYY-MM-DD. */
export type TimelineRow = {
  unit: string;
  position: string | null;
  start: string;
  stop: string;
  ends: BuildEnd;
  assumedRunning: boolean;
};

/** How as-built end play is shown: in `unit`; the window is as the configuration states it, in its own unit. */
export type EndPlay = {
  unit: LengthUnit;
  window: { low: number; high: number; unit: LengthUnit; source: string } | null;
};

/** Everything that the pages say of one fleet. */
export type FleetOverview = {
  name: string;
  title: string;
  /** Units with a build on record, and rebuilds. */
  size: { units: number; rebuilds: number };
  /** Titles of the slots by name. */
  slots: Record<string, string>;
  /** Whether a list of the units in service is on record, and the day it was made. */
  listed: "dated" | "undated" | "none";
  /** Answered for this fleet alone, by slot. */
  life: LifeAnswer;
  /** Answered for this fleet alone. */
  intervals: IntervalsAnswer;
  /** The same by model, or by site where all are of one model; null where there is one of each, or neither is on record. */
  intervalsByGroup: IntervalsAnswer | null;
  /** Who comes back more often than chance explains, among frames and among positions; answered for this fleet alone. */
  offenders: { unit: OffendersAnswer; position: OffendersAnswer };
  /** Of frames and positions that stand out, most certain first. */
  dossiers: Dossier[];
  /** Whether the way in which frames are built makes lives longer, effect by effect; none where builds do not differ. */
  builds: CompareAnswer[];
  lives: SlotLives[];
  timeline: TimelineRow[];
  endPlay: EndPlay;
  /** What leaves the bench and what comes back to it, by month, model and quarter; its one group is this fleet. */
  bench: BenchAnswer;
  /** Sentences for the head of the page, beside those of the answers. */
  findings: string[];
  /** What to be careful of, beside the warnings of the answers. */
  warnings: string[];
};

/** Lives compared between fleets: what the answer of all fleets together, by fleet and slot, says beside each fleet's own. */
export type FleetsCompared = {
  /** `by` has fleet and slot; comparisons count groups by their place here. */
  groups: Pick<LifeGroup, "by" | "pooled">[];
  comparisons: Comparison[];
  rows: string;
};
