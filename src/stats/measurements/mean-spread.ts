/** Mean and standard deviation of readings, in one pass that does not cancel; null where there are too few. */
export function meanSpread(readings: Float64Array): { mean: number | null; sd: number | null } {
  let [mean, squares] = [0, 0];
  for (let at = 0; at < readings.length; at++) {
    const off = readings[at]! - mean;
    mean += off / (at + 1);
    squares += off * (readings[at]! - mean);
  }
  return {
    mean: readings.length === 0 ? null : mean,
    sd: readings.length < 2 ? null : Math.sqrt(squares / (readings.length - 1)),
  };
}
