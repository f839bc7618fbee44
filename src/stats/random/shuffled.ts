import type { Stream } from "./stream.ts";

/**
 * The same values, in place, in an order of which each is as likely.
 * @see R. Durstenfeld, Communications of the ACM 7 (1964) 420
 */
export function shuffled(values: Int32Array, stream: Stream): Int32Array {
  for (let left = values.length; left > 1; left--) {
    const other = stream.below(left);
    [values[left - 1], values[other]] = [values[other]!, values[left - 1]!];
  }
  return values;
}
