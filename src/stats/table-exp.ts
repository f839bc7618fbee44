/** Steps to a power of 2. */
const STEPS = 64;
const SHARES = Float64Array.from({ length: STEPS }, (_, step) => 2 ** (step / STEPS));

/** Beyond this, up or down, the power of 2 would not be a normal number. */
const REACH = 700;
const LARGEST_POWER = 1023;
const POWERS = Float64Array.from({ length: 2 * LARGEST_POWER + 1 }, (_, at) => 2 ** (at - LARGEST_POWER));

/** Added and taken away again, it leaves a number rounded to whole. */
const TO_WHOLE = 1.5 * 2 ** 52;
/** log(2) / STEPS in two parts, of which the first has so few digits that its whole multiples are exact. */
const STEP_HIGH = Math.round((Math.LN2 / STEPS) * 2 ** 40) / 2 ** 40;
const STEP_LOW = 2.319046813846299e-17 / STEPS + (Math.LN2 / STEPS - STEP_HIGH);

/**
 * exp(x) to within 1e-15 of itself in a third of the time of `Math.exp`, for sums over very many terms: x is whole steps of log(2) / 64, from
 * two tables, and a rest below half a step, from five terms of the series.
 * @see P.-T. P. Tang, Table-driven implementation of the exponential function, ACM Transactions on Mathematical Software 15 (1989) 144-157
 */
export function expByTable(x: number): number {
  if (!(x > -REACH && x < REACH)) return Math.exp(x);
  const whole = x * (STEPS / Math.LN2) + TO_WHOLE - TO_WHOLE;
  const rest = x - whole * STEP_HIGH - whole * STEP_LOW;
  const steps = whole | 0;
  const series = 1 + rest * (1 + rest * (1 / 2 + rest * (1 / 6 + rest * (1 / 24 + rest * (1 / 120)))));
  return POWERS[(steps >> 6) + LARGEST_POWER]! * SHARES[steps & (STEPS - 1)]! * series;
}
