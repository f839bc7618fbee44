import type { Answer } from "./answer.ts";
import type { Estimate } from "./estimate.ts";

/** What a gauge study rests on; `leftOut` counts rows that could not be used, by reason. */
export type GaugeBasis = { readings: number; frames: number; fitters: number; leftOut: Record<string, number> };

/** What readings are held against, in their unit: asked for, or of the workspace, with where it comes from. */
export type GaugeWindow = { low: number; high: number; unit: string | null; source: string | null };

/** A part of the variation of readings. */
export type GaugePart = {
  variance: number;
  /** Both limits are null where none can be given. */
  sd: Estimate;
  /** These add up; shares of spread don't. */
  shareOfVariance: number;
  shareOfSpread: number;
  /** Six standard deviations over the width of the window; null without one. */
  shareOfWindow: number | null;
};

/** `gauge` is `repeatability` and `reproducibility` together, `total` that and `frame`. */
export type GaugeParts = Record<"repeatability" | "reproducibility" | "gauge" | "frame" | "total", GaugePart>;

/** How well a gauge reads. No figure is of one fitter among several. */
export type GaugeReadAnswer = Omit<Answer, "basis"> & {
  command: "gauge read";
  basis: GaugeBasis;
  window: GaugeWindow | null;
  /** Where there is no study: why, and what repeats alone show, where there are any. */
  components: GaugeParts | { reason: string; repeatability?: Estimate };
  /** Whether every fitter measured every frame equally often. */
  balanced: boolean | null;
  /** Parts whose estimate came out below 0 and was set to 0. */
  setToZero: ("fitter" | "interaction" | "frame")[];
  /** How many classes of frames the gauge tells apart. */
  distinctBands: number | null;
  /** The command that corrects an effect of end play for this gauge; null where no error of it showed, or readings seem to be in another unit. */
  compare: string | null;
};

/** One reading to be taken. */
type PlannedReading = { number: number; round: number; frame: string; fitter: string };

/** The blind random order of a gauge study. */
export type GaugePlanAnswer = {
  schema: 1;
  command: "gauge plan";
  answer: string;
  frames: number;
  fitters: number;
  repeats: number;
  seed: number;
  level: number;
  /** Limits over the estimate that such a study will give at that level, of the standard deviations of a repeat and between fitters. */
  knownWithin: Record<"repeatability" | "betweenFitters", { low: number; high: number }>;
  order: PlannedReading[];
  instructions: string[];
  cautions: string[];
};
