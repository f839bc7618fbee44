import { type Counts, checkCounts } from "./counts.ts";
import { gammaLowerTail } from "./gamma-tails.ts";
import { logFactorial } from "./log-factorial.ts";

/**
 * Chance of so many events or more where `exposure` are expected, were they Poisson: P(N >= events), the lower tail of a gamma variable
 * of shape `events`. With `midP` the count itself counts by half.
 * @param counts - events, and events expected; with none expected the chance of any event is 0, and that of none 1
 * @param options - `midP`: false where not given
 * @returns a probability per entity, to full relative precision; for `benjaminiHochberg`
 * @throws RangeError for columns that are not counts and expectations
 * @see Gaver & O'Muircheartaigh, Technometrics 29 (1987) 1-15; H. O. Lancaster, J. Amer. Statist. Assoc. 56 (1961) 223-234, for mid-p
 * @example poissonUpperP({ events: Float64Array.of(4), exposure: Float64Array.of(0.4491) }); // [0.00119]
 */
export function poissonUpperP(counts: Counts, { midP = false }: { midP?: boolean } = {}): Float64Array {
  checkCounts(counts);
  const { events, exposure } = counts;
  const chance = new Float64Array(events.length);
  for (let entity = 0; entity < events.length; entity++) {
    const [n, expected] = [events[entity]!, exposure[entity]!];
    const upper = n === 0 ? 1 : gammaLowerTail(n, expected);
    chance[entity] = midP ? upper - poissonChance(n, expected) / 2 : upper;
  }
  return chance;
}

function poissonChance(n: number, expected: number): number {
  if (expected === 0) return n === 0 ? 1 : 0;
  return Math.exp(n * Math.log(expected) - expected - logFactorial(n));
}
