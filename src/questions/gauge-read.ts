import type { DuckDBConnection } from "@duckdb/node-api";
import type { GaugeCell } from "../stats/gauge/gauge-readings.ts";
import { type FoundGaugeStudy, type GaugeComponent, gaugeStudy } from "../stats/gauge/gauge-study.ts";
import { type RepeatSpread, repeatSpread } from "../stats/gauge/repeat-spread.ts";
import { strayReading } from "../stats/gauge/stray-reading.ts";
import { columns } from "../store/columns.ts";
import { LENGTH_UNITS, windowIn } from "../workspace/lengths.ts";
import { checkedCondition } from "./conditions.ts";
import type { Estimate } from "./estimate.ts";
import type { GaugePart, GaugeParts, GaugeReadAnswer, GaugeWindow } from "./gauge-answer.ts";
import { gaugeSentence } from "./gauge-sentence.ts";
import { gaugeWarnings, isOdd, type MissingCell, type OtherUnit } from "./gauge-warnings.ts";
import { framelife, rowsCommand, shellWord } from "./rows-command.ts";
import type { Source } from "./scope.ts";

/** What `gauge read` is asked: of which readings, held against which window; `folder` is that of a workspace that was named. */
export type GaugeQuestion = { where?: string; level: number; window: GaugeWindow | null; folder?: string };

/** How much of what readings differ by is the gauge's. The connection holds `gauge_rows`. */
export async function askGaugeRead(
  connection: DuckDBConnection,
  { where, level, window, folder }: GaugeQuestion,
  source: Extract<Source, { kind: "table" }>,
): Promise<GaugeReadAnswer> {
  const condition = where === undefined ? "true" : await checkedCondition(connection, "gauge_rows", where);
  const { blank } = await columns(
    connection,
    `select count(*)::integer as blank from gauge_rows where reading is null and ${condition}`,
    { blank: "integer" },
  );
  const { frame, fitter, reading } = await columns(
    connection,
    `select frame, fitter, reading from gauge_rows where reading is not null and ${condition} order by "row "`,
    { frame: "category", fitter: "category", reading: "number" },
  );
  const readings = { frame: frame.codes, fitter: fitter.codes, reading };
  const study = gaugeStudy(readings, { level, ...(window !== null && { width: window.high - window.low }) });
  const missing = "cell" in study && study.cell !== undefined ? named(study.cell, frame.words, fitter.words) : null;
  const scope = { by: [], clock: "hours" as const, level, ...(where !== undefined && { where }) };
  const answer: GaugeReadAnswer = {
    schema: 1,
    command: "gauge read",
    answer: "",
    asOf: null,
    clock: null,
    level,
    basis: {
      readings: reading.length,
      frames: frame.words.length,
      fitters: fitter.words.length,
      leftOut: blank[0]! > 0 ? { no_reading: blank[0]! } : {},
    },
    warnings: [],
    rows: rowsCommand("life", scope, source),
    window,
    ...foundIn(study, { missing, repeats: repeatSpread(readings, level), folder }),
  };
  const outside = outsideOf(reading, window);
  // In another unit than that of the window, the deviation would be put right by the wrong one.
  if (isOdd(answer, outside)) answer.compare = null;
  const stray = study.components === null ? null : strayReading(readings, STRAYS);
  answer.answer = gaugeSentence(answer);
  answer.warnings = gaugeWarnings(answer, {
    missing,
    outside,
    otherUnit: otherUnitOf(reading, window),
    codes: { frame: frame.words, fitter: fitter.words },
    stray: stray === null ? null : { frame: frame.words[frame.codes[stray.row]!]!, reading: reading[stray.row]! },
  });
  return answer;
}

/** The chance that a reading without a slip is named as one. */
const STRAYS = 0.001;

type Found = Pick<GaugeReadAnswer, "components" | "balanced" | "setToZero" | "distinctBands" | "compare">;

function named({ frame, fitter }: GaugeCell, frames: string[], fitters: string[]): MissingCell {
  return { frame: frames[frame]!, fitter: fitters[fitter]! };
}

function foundIn(
  study: FoundGaugeStudy | { components: null; reason: string },
  {
    missing,
    repeats,
    folder,
  }: { missing: MissingCell | null; repeats: RepeatSpread | null; folder: string | undefined },
): Found {
  if (study.components === null) {
    const where = missing === null ? "" : ` (no reading of frame ${missing.frame} by fitter ${missing.fitter})`;
    return {
      components: { reason: `${study.reason}${where}`, ...repeatsAlone(repeats) },
      balanced: null,
      setToZero: [],
      distinctBands: null,
      compare: null,
    };
  }
  const { components, balanced, setToZero, distinctBands, reason } = study;
  if (distinctBands === null) {
    return { components: { reason: reason! }, balanced, setToZero: [], distinctBands, compare: null };
  }
  const sd = Number(components.gauge.sd.toPrecision(3));
  return {
    components: partsOf(components),
    balanced,
    setToZero,
    distinctBands,
    compare: framelife(`compare end_play --gauge-sd ${shellWord(String(sd))}`, folder),
  };
}

/** What repeats differ by, for a study that tells no more; repeats that are all alike tell nothing. */
function repeatsAlone(repeats: RepeatSpread | null): { repeatability?: Estimate } {
  if (repeats === null || repeats.sd === 0) return {};
  return { repeatability: { estimate: repeats.sd, low: repeats.low, high: repeats.high } };
}

function partsOf({ repeatability, reproducibility, gauge, frame, total }: FoundGaugeStudy["components"]): GaugeParts {
  return {
    repeatability: partOf(repeatability),
    reproducibility: partOf(reproducibility),
    gauge: partOf(gauge),
    frame: partOf(frame),
    total: partOf(total),
  };
}

function partOf({ variance, sd, limits, ...shares }: GaugeComponent): GaugePart {
  return { variance, sd: { estimate: sd, low: limits?.low ?? null, high: limits?.high ?? null }, ...shares };
}

/** A unit of length in which most readings would lie inside the window, where in its own most lie outside. */
function otherUnitOf(reading: Float64Array, window: GaugeWindow | null): OtherUnit | null {
  const own = LENGTH_UNITS.find((unit) => unit === window?.unit);
  if (window === null || own === undefined) return null;
  for (const unit of LENGTH_UNITS) {
    const ends = windowIn({ low: window.low, high: window.high, unit: own }, unit);
    const outside = outsideOf(reading, { ...window, ...ends });
    if (unit !== own && 2 * outside < reading.length) return { unit, ...ends };
  }
  return null;
}

function outsideOf(reading: Float64Array, window: GaugeWindow | null): number {
  return window === null ? 0 : reading.filter((value) => value < window.low || value > window.high).length;
}
