import { checkedLevel } from "../level.ts";
import { frameLimits, gaugeLimits, repeatLimits, type VarianceLimits } from "./gauge-limits.ts";
import { type GaugeCell, type GaugeReadings, type GaugeTable, gaugeTable } from "./gauge-readings.ts";
import { type MeanSquares, meanSquares } from "./mean-squares.ts";

/** A part of the variation of readings. */
export type GaugeComponent = {
  variance: number;
  /** Its root, in the unit of the readings. */
  sd: number;
  /** Limits of `sd`; null where none are given. */
  limits: VarianceLimits | null;
  /** Its variance over the whole variance: these add up. */
  shareOfVariance: number;
  /** Its standard deviation over that of all readings: these don't. */
  shareOfSpread: number;
  /** 6 sd over the width of the window; null without a window. */
  shareOfWindow: number | null;
};

/** `reproducibility` is `fitter` and `interaction` together, `gauge` that and `repeatability`, `total` that and `frame`. */
export type GaugeComponents = Record<
  "repeatability" | "fitter" | "interaction" | "reproducibility" | "gauge" | "frame" | "total",
  GaugeComponent
>;

/** A crossed gauge study. */
export type FoundGaugeStudy = {
  frames: number;
  fitters: number;
  readings: number;
  /** Whether each fitter measured each frame equally often; if not, mean squares are of unweighted means. */
  balanced: boolean;
  meanSquares: MeanSquares;
  components: GaugeComponents;
  /** Components whose estimate came out below 0 and was set to 0. */
  setToZero: ("fitter" | "interaction" | "frame")[];
  /** How many classes of frames the gauge tells apart, rounded down; null with a `reason` where it showed no error. */
  distinctBands: number | null;
  reason?: string;
};

/** A gauge study, or why there is none and where. */
export type GaugeStudy = FoundGaugeStudy | { components: null; reason: string; cell?: GaugeCell };

/** Width of the window that readings are held against, above 0, in their unit; and the level of limits, 0.95 where not given. */
export type GaugeOptions = { width?: number; level?: number };

/**
 * Splits the variation of a crossed study, frames x fitters x repeats, all three taken as random, by the analysis of variance:
 * repeatability (the same fitter again), reproducibility (fitters, and fitters with some frames) and frames. Components below 0 are set to
 * 0 and named. Limits: of repeatability exact, of the gauge and of frames modified large-sample ones; these are widened, where need be,
 * to hold an estimate of which a part was set to 0. With two or three fitters the gauge's upper limit lies far out: that is what two or
 * three fitters tell of others. Where numbers of readings differ, by unweighted means, and limits are approximate.
 * @param readings - frame and fitter of each reading, numbered from 0; every fitter measures every frame, some twice or more
 * @param options - width of the window, level
 * @returns mean squares, components, shares, number of distinct bands floor(1.41 frame sd / gauge sd)
 * @throws RangeError for columns that are no readings, a width or a level out of range
 * @see R. K. Burdick, C. M. Borror & D. C. Montgomery, J. Quality Technology 35 (2003) 342-354; for distinct bands Automotive Industry Action Group, Measurement Systems Analysis, 4th ed., 2010 (from memory)
 * @example gaugeStudy({ frame, fitter, reading }, { width: 0.127 });
 */
export function gaugeStudy(readings: GaugeReadings, { width, level = 0.95 }: GaugeOptions = {}): GaugeStudy {
  if (width !== undefined && !(width > 0 && width < Number.POSITIVE_INFINITY)) {
    throw new RangeError(`Cannot study a gauge: the width of the window must be above 0, found ${width}`);
  }
  const tail = (1 - checkedLevel(level)) / 2;
  const table = gaugeTable(readings);
  if ("reason" in table) return { components: null, ...table };
  const squares = meanSquares(table);
  const estimates = estimatesOf(squares, table);
  const components = componentsOf(estimates.variances, limitsOf(squares, table, tail), width);
  const { frames, fitters, counts } = table;
  return {
    frames,
    fitters,
    readings: readings.reading.length,
    balanced: counts.every((count) => count === counts[0]),
    meanSquares: squares,
    components,
    setToZero: estimates.setToZero,
    ...bandsOf(components),
  };
}

type Variances = Record<keyof GaugeComponents, number>;

function estimatesOf(squares: MeanSquares, { frames, fitters }: GaugeTable) {
  const { frame, fitter, interaction, repeat, repeats } = squares;
  const raw = {
    fitter: (fitter.value - interaction.value) / (repeats * frames),
    interaction: (interaction.value - repeat.value) / repeats,
    frame: (frame.value - interaction.value) / (repeats * fitters),
  };
  const setToZero = (["fitter", "interaction", "frame"] as const).filter((name) => raw[name] < 0);
  const kept = { fitter: Math.max(0, raw.fitter), interaction: Math.max(0, raw.interaction) };
  const reproducibility = kept.fitter + kept.interaction;
  const gauge = repeat.value + reproducibility;
  const between = Math.max(0, raw.frame);
  const variances: Variances = {
    ...kept,
    repeatability: repeat.value,
    reproducibility,
    gauge,
    frame: between,
    total: gauge + between,
  };
  return { variances, setToZero };
}

type Limits = Partial<Record<keyof GaugeComponents, VarianceLimits>>;

function limitsOf(squares: MeanSquares, { frames, fitters }: GaugeTable, tail: number): Limits {
  return {
    repeatability: repeatLimits(squares.repeat, tail),
    gauge: gaugeLimits(squares, frames, tail),
    frame: frameLimits(squares, fitters, tail),
  };
}

function componentsOf(variances: Variances, limits: Limits, width: number | undefined): GaugeComponents {
  const component = (name: keyof GaugeComponents): GaugeComponent => {
    const variance = variances[name];
    const sd = Math.sqrt(variance);
    const own = limits[name];
    return {
      variance,
      sd,
      limits: own
        ? { low: Math.sqrt(Math.min(variance, own.low)), high: Math.sqrt(Math.max(variance, own.high)) }
        : null,
      shareOfVariance: variance / variances.total,
      shareOfSpread: sd / Math.sqrt(variances.total),
      shareOfWindow: width === undefined ? null : (6 * sd) / width,
    };
  };
  return {
    repeatability: component("repeatability"),
    fitter: component("fitter"),
    interaction: component("interaction"),
    reproducibility: component("reproducibility"),
    gauge: component("gauge"),
    frame: component("frame"),
    total: component("total"),
  };
}

function bandsOf({ frame, gauge }: GaugeComponents): { distinctBands: number | null; reason?: string } {
  if (gauge.variance > 0) return { distinctBands: Math.floor((1.41 * frame.sd) / gauge.sd) };
  return {
    distinctBands: null,
    reason: "every fitter's readings of a frame are alike, as if copied or read too coarsely",
  };
}
