import type { GaugeReadAnswer } from "./gauge-answer.ts";
import { windowWords } from "./gauge-sentence.ts";
import { allOf, count, inWords, wholePercent } from "./wording.ts";

/** A frame that a fitter has not measured, by their codes. */
export type MissingCell = { frame: string; fitter: string };

/** A unit of length in which readings would lie inside the window, and its ends there. */
export type OtherUnit = { unit: string; low: number; high: number };

/** Beside the answer, what warnings rest on. */
type Seen = {
  missing: MissingCell | null;
  outside: number;
  otherUnit: OtherUnit | null;
  stray: { frame: string; reading: number } | null;
  /** The codes of frames and fitters. */
  codes: { frame: readonly string[]; fitter: readonly string[] };
};

/** Six standard deviations over the window up to which a gauge is wanted, and commonly taken: as there. */
const [WANTED, TAKEN] = [0.1, 0.3];
/** Fewer classes than this tell a process little: Automotive Industry Action Group, Measurement Systems Analysis, 4th ed., 2010 (from memory). */
const ENOUGH_BANDS = 5;
/** An upper limit further off than so many times the estimate is said: common practice, no source. */
const FAR = 2;

const SET_TO_ZERO = {
  fitter: "between fitters",
  interaction: "of fitters with some frames only",
  frame: "between frames",
};

/** What to be careful of in a gauge study. */
export function gaugeWarnings(answer: GaugeReadAnswer, { missing, outside, otherUnit, stray, codes }: Seen): string[] {
  return [
    ...leftOutWarnings(answer),
    ...(["fitter", "frame"] as const).flatMap((what) => spellingWarnings(what, codes[what])),
    ...missingWarnings(missing),
    ...windowWarnings(answer, outside, otherUnit),
    ...strayWarnings(stray),
    ...partWarnings(answer),
    ...balanceWarnings(answer),
  ];
}

function leftOutWarnings({ basis: { leftOut } }: GaugeReadAnswer): string[] {
  const blank = leftOut["no_reading"] ?? 0;
  return blank === 0 ? [] : [`${count(blank, "row has", "rows have")} no reading; they are left out`];
}

/** Codes that differ in capitals or blanks alone are likely to be one. */
function spellingWarnings(what: "fitter" | "frame", codes: readonly string[]): string[] {
  const alike = new Map<string, string[]>();
  for (const code of codes) {
    const bare = code.replace(/\s+/g, "").toLowerCase();
    alike.set(bare, [...(alike.get(bare) ?? []), code]);
  }
  return [...alike.values()]
    .filter((same) => same.length > 1)
    .map((same) => `${what}s ${allOf(same)} are taken as ${same.length}: if they are one, write them alike`);
}

function missingWarnings(missing: MissingCell | null): string[] {
  if (missing === null) return [];
  const frame = `frame <> '${missing.frame.replaceAll("'", "''")}'`;
  return [
    `every fitter must measure every frame: take the readings that lack, or leave that frame out (--where "${frame}")`,
  ];
}

function strayWarnings(stray: Seen["stray"]): string[] {
  if (stray === null) return [];
  return [
    `one reading of frame ${stray.frame}, ${inWords(stray.reading)}, lies far from what the same fitter read of it else: if it is a slip of the pen, it makes the gauge look worse than it is`,
  ];
}

/** Whether most readings lie outside the window, as if they were in another unit. */
export function isOdd({ basis }: Pick<GaugeReadAnswer, "basis">, outside: number): boolean {
  return 2 * outside > basis.readings;
}

function windowWarnings(answer: GaugeReadAnswer, outside: number, otherUnit: OtherUnit | null): string[] {
  const { window, basis } = answer;
  if (window === null) {
    return [
      "no window is known to hold the gauge against: give --window LOW,HIGH, or windows: end_play: in framelife.yaml",
    ];
  }
  const unit = window.unit ?? "the unit of the window";
  const odd = isOdd(answer, outside);
  const other =
    otherUnit === null
      ? ""
      : ` In ${otherUnit.unit} most would lie inside: give --window ${otherUnit.low},${otherUnit.high}`;
  return [
    ...(odd
      ? [
          `${inWords(outside)} of ${count(basis.readings, "reading")} lie outside the window ${windowWords(window)}: are they in ${unit}?${other}`,
        ]
      : []),
    ...(window.unit === null || odd ? [] : [`readings are taken to be in ${unit}, as the workspace shows end play`]),
    ...(window.source === null ? [] : [`the window is the workspace's (${window.source})`]),
  ];
}

function partWarnings({ components, distinctBands, setToZero, basis }: GaugeReadAnswer): string[] {
  if ("reason" in components) return [];
  const { gauge, repeatability } = components;
  const { estimate, high } = gauge.sd;
  return [
    ...(repeatability.variance === 0
      ? ["every fitter's repeats of a frame are alike, as if copied or read too coarsely"]
      : []),
    ...(high !== null && estimate !== null && high > FAR * estimate
      ? [
          `the gauge's standard deviation may be ${inWords(high / estimate)} times the estimate: ${count(basis.fitters, "fitter")} tell little of how fitters differ`,
        ]
      : []),
    ...(gauge.shareOfWindow !== null && gauge.shareOfWindow > TAKEN
      ? [
          `a gauge of which six standard deviations take up over ${wholePercent(TAKEN)} of the window is commonly not accepted, and under ${wholePercent(WANTED)} is wanted`,
        ]
      : []),
    ...(distinctBands !== null && distinctBands < ENOUGH_BANDS
      ? [`a gauge that tells under ${ENOUGH_BANDS} bands apart is too coarse to steer by (common practice)`]
      : []),
    ...(setToZero.length === 0
      ? []
      : [`the variance ${allOf(setToZero.map((part) => SET_TO_ZERO[part]))} came out below 0 and is taken as 0`]),
  ];
}

function balanceWarnings({ balanced, components }: GaugeReadAnswer): string[] {
  if (balanced !== false || "reason" in components) return [];
  return [
    "not every fitter measured every frame equally often: unweighted means are taken, and limits are approximate",
  ];
}
