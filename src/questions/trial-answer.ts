import type { Protocol } from "../workspace/protocol.ts";
import type { Answer } from "./answer.ts";
import type { Estimate } from "./estimate.ts";

/** What seeing a ratio of lives takes. */
export type TrialNeed = {
  ratio: number;
  failures: number;
  months: number | null;
  builds: number | null;
  reason?: string;
};

/** What a trial takes, by the fleet's own lives; and its protocol, null where it can't be planned. */
export type TrialPlanAnswer = Answer & {
  command: "trial plan";
  name: string;
  protocol: Protocol | null;
  did: "written" | "unchanged" | "amended" | null;
  /** Path of the protocol in the workspace. */
  kept: string | null;
  rebuildsPerMonth: number | null;
  shape: number | null;
  /** In months. */
  scale: number | null;
  needs: TrialNeed[];
  /** The first look may not stop a trial for less than this p, and so on. */
  looks: { failures: number; p: number | null; reason?: string }[];
};

/** A build of a trial before it is made: its code, and the band that it falls to. */
export type AssignedBuild = {
  build: string;
  stratum: string;
  block: number;
  assigned: string;
  low: number;
  high: number;
};

/** The assignment list of a trial. */
export type TrialAssignAnswer = {
  schema: 1;
  command: "trial assign";
  answer: string;
  name: string;
  unit: string;
  seed: number;
  builds: AssignedBuild[];
  instructions: string[];
  cautions: string[];
};

/** A comparison of the two arms. */
export type TrialComparison = {
  arms: { arm: string; builds: number; failed: number; expected: number }[];
  /** Of the first arm's lives over the second's; limits that hold over all looks. */
  lifeRatio: Estimate;
  p: number | null;
  /** By chi-square, or by re-randomisation within blocks where failures are few. */
  by: "log-rank" | "re-randomisation";
  reason?: string;
};

/** A trial as it stands. */
export type TrialReadAnswer = Answer & {
  command: "trial read";
  name: string | null;
  arms: [string, string];
  asAssigned: TrialComparison;
  /** By the arm that a build turned out as. */
  asBuilt: TrialComparison | { reason: string };
  /** Builds that did not come out as assigned, by arm; of how many it is known. */
  missed: { arm: string; builds: number; of: number }[];
  /** Failures planned; null where no plan is known, for then this is the only look. */
  planned: number | null;
  earlier: number[];
  /** What p must not exceed at this look; null where it may not stop the trial. */
  allowed: number | null;
  /** Why it may not. */
  reason?: string;
  verdict: "longer" | "shorter" | "go on" | "no difference shown";
};
