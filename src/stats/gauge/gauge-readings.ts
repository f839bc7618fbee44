/** Readings of a gauge study: each frame measured by each fitter several times. Frames and fitters are numbered from 0. */
export type GaugeReadings = { frame: Int32Array; fitter: Int32Array; reading: Float64Array };

/** One frame with one fitter. */
export type GaugeCell = { frame: number; fitter: number; readings: number };

/** Why readings are no gauge study, and where, if in one place. */
export type GaugeRefusal = { reason: string; cell?: GaugeCell };

/** Readings by frame and fitter: `frame * fitters + fitter`. */
export type GaugeTable = { frames: number; fitters: number; counts: Int32Array; means: Float64Array; within: number };

/**
 * Counts and means by frame and fitter, and the sum of squares about those means; or why there can be none.
 * @throws RangeError for columns of unequal length, what is no number of a frame or fitter, or a reading that is no number
 */
export function gaugeTable(readings: GaugeReadings): GaugeTable | GaugeRefusal {
  checkReadings(readings);
  const { frame, fitter, reading } = readings;
  if (reading.length === 0) return { reason: "there are no readings" };
  const [frames, fitters] = [largest(frame) + 1, largest(fitter) + 1];
  const refusal = refusalOf(readings, frames, fitters);
  if (refusal !== null) return refusal;
  const counts = new Int32Array(frames * fitters);
  const means = new Float64Array(frames * fitters);
  const cellOf = (row: number) => frame[row]! * fitters + fitter[row]!;
  for (let row = 0; row < reading.length; row++) {
    const cell = cellOf(row);
    counts[cell]!++;
    means[cell]! += (reading[row]! - means[cell]!) / counts[cell]!;
  }
  let within = 0;
  for (let row = 0; row < reading.length; row++) within += (reading[row]! - means[cellOf(row)]!) ** 2;
  return { frames, fitters, counts, means, within };
}

function refusalOf(readings: GaugeReadings, frames: number, fitters: number): GaugeRefusal | null {
  const { frame, fitter, reading } = readings;
  if (frames < 2) return { reason: "there is one frame only: what frames differ by can't be seen" };
  if (fitters < 2) return { reason: "there is one fitter only: what fitters differ by can't be seen" };
  const measured = new Set(frame.map((one, row) => one * fitters + fitter[row]!));
  for (let cell = 0; cell <= reading.length && cell < frames * fitters; cell++) {
    if (measured.has(cell)) continue;
    const place = { frame: Math.floor(cell / fitters), fitter: cell % fitters, readings: 0 };
    return { reason: "a fitter has not measured every frame", cell: place };
  }
  if (reading.length === frames * fitters) {
    return { reason: "no fitter has measured a frame twice: what repeats differ by can't be seen" };
  }
  return reading.every((value) => value === reading[0]) ? { reason: "all readings are alike" } : null;
}

function largest(numbers: Int32Array): number {
  return numbers.reduce((most, number) => Math.max(most, number), 0);
}

/** @throws RangeError for columns of unequal length, what is no number of a frame or fitter, or a reading that is no number */
export function checkReadings({ frame, fitter, reading }: GaugeReadings): void {
  if (frame.length !== reading.length || fitter.length !== reading.length) {
    const found = `${frame.length} frames, ${fitter.length} fitters and ${reading.length} readings`;
    throw new RangeError(`Cannot study a gauge: columns differ in length, found ${found}`);
  }
  for (let row = 0; row < reading.length; row++) {
    if (frame[row]! >= 0 && fitter[row]! >= 0 && Number.isFinite(reading[row]!)) continue;
    const found = `frame ${frame[row]}, fitter ${fitter[row]}, ${reading[row]}`;
    throw new RangeError(`Cannot study a gauge: reading ${row} (counted from 0) is ${found}`);
  }
}
