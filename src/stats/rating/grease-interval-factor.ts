/**
 * What a grease relubrication interval stated for 70 C is multiplied by at a bearing temperature: halved for every 15 C above,
 * doubled at most once below. Holds up to the grease's own limit.
 * @param temperature - of the bearing's outer ring, C
 * @returns a factor above 0 and up to 2, no unit
 * @throws RangeError if the temperature is not finite
 * @see lubrication sections of two bearing makers' catalogues
 * @example greaseIntervalFactor(85); // 0.5
 */
export function greaseIntervalFactor(temperature: number): number {
  if (!Number.isFinite(temperature)) {
    throw new RangeError(`Cannot take a grease interval: the temperature must be finite, found ${temperature}`);
  }
  return Math.min(2, 2 ** ((70 - temperature) / 15));
}
