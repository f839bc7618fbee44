/** What stands between a reading and the true value. */
export type GaugeError = {
  /** Standard deviation of the gauge, in the unit of the readings, 0 or more. */
  gaugeSd: number;
  /** Variance of the readings over the units, above 0; beside other covariates what these leave of it (`leftVariance`). */
  variance: number;
  /** How many readings the value used is the mean of, 1 where not given. */
  repeats?: number;
};

/** An estimate with its limits, of which either may be open. */
export type Slope = { estimate: number; low: number | null; high: number | null };

/** A slope corrected for the gauge's error; null with the reason where the readings say nothing of the true values. */
export type Corrected =
  /** `reliability` is the share of the readings' variance that is true, and what the slope shrank by. */
  { slope: Slope; reliability: number } | { slope: null; reliability: 0; reason: string };

/**
 * Slope by true values from that by readings, by regression calibration: readings are true values and independent errors, so that a slope
 * shrinks by (variance - gaugeSd^2 / repeats) / variance. Exact for a straight line and normal values, good for small effects elsewhere.
 * Limits are divided alike: they don't know how well the gauge's deviation is known, so ask again with its limits; and what excluded 0
 * still does, so that no test gains power.
 * @param slope - by the readings: log life or log hazard a unit
 * @param error - the gauge's standard deviation, the readings' variance, readings a value
 * @returns the corrected slope and the reliability, or why there is none
 * @throws RangeError if an argument lies outside its range
 * @see R. J. Carroll, D. Ruppert, L. A. Stefanski & C. M. Crainiceanu, Measurement Error in Nonlinear Models, 2nd ed., 2006, ch. 3 and 4; R. L. Prentice, Biometrika 69 (1982) 331-342, for hazards
 * @example correctedSlope({ estimate: -0.2, low: -0.35, high: -0.05 }, { gaugeSd: 0.5, variance: 1.69 }).slope; // { estimate: -0.235, low: -0.411, high: -0.059 }
 */
export function correctedSlope(slope: Slope, error: GaugeError): Corrected {
  const { gaugeSd, variance, repeats = 1 } = error;
  if (!(gaugeSd >= 0 && gaugeSd < Number.POSITIVE_INFINITY && variance > 0 && variance < Number.POSITIVE_INFINITY)) {
    const found = `standard deviation ${gaugeSd} and variance of readings ${variance}`;
    throw new RangeError(`Cannot correct for a gauge: found ${found}`);
  }
  if (!(Number.isInteger(repeats) && repeats >= 1)) {
    throw new RangeError(`Cannot correct for a gauge: readings a value must be whole, from 1, found ${repeats}`);
  }
  if (![slope.estimate, slope.low ?? 0, slope.high ?? 0].every(Number.isFinite)) {
    throw new RangeError(`Cannot correct for a gauge: the slope is ${slope.estimate} (${slope.low} to ${slope.high})`);
  }
  const reliability = (variance - gaugeSd ** 2 / repeats) / variance;
  if (!(reliability > 0)) {
    const reason = "the gauge's error alone explains the spread of the readings: they say nothing of the true values";
    return { slope: null, reliability: 0, reason };
  }
  const over = (value: number | null) => (value === null ? null : value / reliability);
  const corrected = { estimate: slope.estimate / reliability, low: over(slope.low), high: over(slope.high) };
  return { slope: corrected, reliability };
}
