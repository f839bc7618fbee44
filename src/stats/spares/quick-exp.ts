/** Steps to a power of 2. */
const STEPS = 1024;
const SHARES = Float64Array.from({ length: STEPS }, (_, step) => 2 ** (step / STEPS));
const LARGEST_POWER = 1023;
const POWERS = Float64Array.from({ length: 2 * LARGEST_POWER + 1 }, (_, at) => 2 ** (at - LARGEST_POWER));
const BITS = 10;

/** Beyond this, up or down, the power of 2 would not be a normal number. */
const REACH = 700;
/** Added and taken away again, it leaves a number rounded to whole. */
const TO_WHOLE = 1.5 * 2 ** 52;
const STEP = Math.LN2 / STEPS;

/**
 * exp(x) to 1e-11 of itself, in three fifths of the time of `expByTable`: finer steps leave a rest for which two terms of the series do. For
 * draws, where chance is a million times coarser.
 */
export function quickExp(x: number): number {
  if (!(x > -REACH && x < REACH)) return Math.exp(x);
  const whole = x * (STEPS / Math.LN2) + TO_WHOLE - TO_WHOLE;
  const rest = x - whole * STEP;
  const steps = whole | 0;
  return POWERS[(steps >> BITS) + LARGEST_POWER]! * SHARES[steps & (STEPS - 1)]! * (1 + rest * (1 + rest / 2));
}
