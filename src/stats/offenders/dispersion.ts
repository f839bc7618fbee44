import { chiSquareTail } from "../chi-square-tail.ts";
import { type Counts, sumOf } from "./counts.ts";

/** Whether counts differ by more than chance about one rate. */
export type Dispersion = {
  /** Sum of (events - expected)^2 / expected, expected at the pooled rate. */
  chiSquare: number;
  /** Entities watched, less one. */
  degrees: number;
  /** Chance of so large a sum at one rate: the chi-square tail; 1 with no degree. */
  p: number;
};

/** Chi-square of counts about their pooled rate, which is above 0; all exposures too. */
export function dispersionOf({ events, exposure }: Counts): Dispersion {
  const pooled = sumOf(events) / sumOf(exposure);
  let chiSquare = 0;
  for (let entity = 0; entity < events.length; entity++) {
    const expected = pooled * exposure[entity]!;
    chiSquare += (events[entity]! - expected) ** 2 / expected;
  }
  const degrees = events.length - 1;
  return { chiSquare, degrees, p: degrees === 0 ? 1 : chiSquareTail(chiSquare, degrees) };
}
