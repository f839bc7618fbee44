import { type LengthUnit, MM_PER } from "../workspace/lengths.ts";

/**
 * A tenth of a thou: dials in a shop show no less, and 0.05 and 0.18 mm are how a gauge in hundredths shows 2 and 7 thou. Nearer to an edge a
 * reading lies on it. Common practice, no source.
 */
const DIAL_MM = 0.0025;
/** What is left in the last digits where the unit is not known. */
const ROUNDING = 1e-9;

/**
 * A reading against its window; one on an edge is inside.
 * @param window - in the unit of the reading; an end that is NaN bounds nothing
 * @param unit - of the reading, null where it is not known
 */
export function sideOf(
  reading: number,
  { low, high }: { low: number; high: number },
  unit: LengthUnit | null,
): "below" | "above" | null {
  const slack = unit === null ? ROUNDING * Math.max(Math.abs(reading), 1e-3) : DIAL_MM / MM_PER[unit];
  if (reading < low - slack) return "below";
  return reading > high + slack ? "above" : null;
}
