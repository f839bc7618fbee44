/** Scale on which the limits of a survival are normal. */
export type LimitScale = "log-log" | "log" | "plain";

export type SurvivalLimits = { low: number | null; high: number | null };

/**
 * Normal limits of a survival. Where the survival is 0 or 1 its variance tells nothing and there are none.
 * @param error - Greenwood's sum, the standard error of log survival; the survival's own is survival * error
 * @param z - half-width in standard errors
 * @see Kalbfleisch & Prentice, The Statistical Analysis of Failure Time Data, ch. 1
 */
export function survivalLimits(survival: number, error: number, z: number, scale: LimitScale): SurvivalLimits {
  let low: number | null = null;
  let high: number | null = null;
  if (survival > 0 && survival < 1) {
    if (scale === "plain") {
      low = Math.max(0, survival - z * survival * error);
      high = Math.min(1, survival + z * survival * error);
    } else if (scale === "log") {
      low = survival * Math.exp(-z * error);
      high = Math.min(1, survival * Math.exp(z * error));
    } else {
      // survival = exp(-hazard), whose limits are hazard times and through a factor.
      const hazard = -Math.log(survival);
      const factor = Math.exp((z * error) / hazard);
      low = Math.exp(-hazard * factor);
      high = Math.exp(-hazard / factor);
    }
  }
  // One object in one place, which the compiler then leaves out where it is taken apart at once.
  return { low, high };
}
