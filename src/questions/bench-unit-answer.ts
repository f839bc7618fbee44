import type { LengthUnit } from "../workspace/lengths.ts";
import type { Clock } from "./answer.ts";
import type { DossierBuild } from "./dossier-types.ts";

/** What is measured of a frame as it is built, and as it was found when it came back, in the workspace's units; null where no card says it. */
export type BenchMeasures = {
  endPlay: number | null;
  endPlayFound: number | null;
  withoutShims: number | null;
  shims: number | null;
  ringTemperature: number | null;
};

/** One build of the frame: how it was built, how it went, and what was found when it came back. */
export type BenchBuild = DossierBuild & { measures: BenchMeasures };

/** The card that the frame last came in by. */
export type BenchReturn = {
  card: string;
  removedOn: string;
  /** Why it was taken out; null where the card does not say. */
  reason: "failure" | "planned" | "opportunity" | "modification" | "unknown" | null;
  failedSlot: string | null;
  endPlayFound: number | null;
  /** Whether it has gone back into service since. */
  back: boolean;
  /** When it was built, and how, where it was and has not gone back yet. */
  built: { on: string; measures: Omit<BenchMeasures, "endPlayFound"> } | null;
};

/** A reading taken at the bench, held against the window and against what the shims leave. */
export type BenchCheck = {
  reading: number;
  side: "below" | "inside" | "above" | null;
  withoutShims: number | null;
  shims: number | null;
  /** What the shims should leave, and how far from it the gauge explains; null where either was not given. */
  expected: number | null;
  allowed: number | null;
  agrees: boolean | null;
};

/** The sheet of one frame. */
export type BenchUnitAnswer = {
  schema: 1;
  command: "bench unit";
  answer: string;
  asOf: string;
  /** What a build's run is counted in. */
  clock: Clock;
  fleet: string;
  fleetTitle: string;
  unit: string;
  model: string | null;
  site: string | null;
  position: string | null;
  unitOfLength: LengthUnit;
  unitOfTemperature: string;
  window: { low: number; high: number; source: string } | null;
  /** What shims do to the end play. */
  shims: "take_up" | "add";
  came: BenchReturn | null;
  /** The latest three, newest first, of `buildsInAll`. */
  builds: BenchBuild[];
  buildsInAll: number;
  check: BenchCheck | null;
  /** What is to be filled in, by group: a blank for each field, or one for each of the columns. */
  blanks: { title: string; fields: string[]; columns: string[] | null }[];
  cautions: string[];
  warnings: string[];
  rows: string;
};
