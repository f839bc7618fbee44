import { randomFor } from "./random.ts";
import { weibullLife } from "./weibull-life.ts";

/**
 * Quantiles of simulated lives of a slot: each life takes one of the given factors in turn, and a Weibull draw.
 * The p-quantile is the ceil(p n)-th of the n ordered lives.
 * @param factors - ratios of life, one per life that began in the records
 * @returns quantiles in the unit of `scale`
 * @throws RangeError if there is no factor
 */
export function simulatedQuantiles(
  { shape, scale }: { shape: number; scale: number },
  factors: number[],
  { lives, at, seed, label }: { lives: number; at: number[]; seed: number; label: string },
): number[] {
  if (factors.length === 0) throw new RangeError(`Cannot simulate lives of ${label}: no life began there`);
  const random = randomFor(seed, "truth", label);
  const drawn = new Float64Array(lives);
  for (let n = 0; n < lives; n++) drawn[n] = factors[n % factors.length]! * weibullLife(random.uniform(), shape, scale);
  drawn.sort();
  return at.map((p) => drawn[Math.ceil(p * lives) - 1]!);
}
