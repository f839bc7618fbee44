import type { Counts } from "./counts.ts";

/** Counts of which a row may stand for several entities. */
export type WeightedCounts = Counts & { weight: Float64Array };

/** From so many entities on those that are nearly alike are fitted as one. */
const MANY = 2000;
/** Steps of the exposure, on the log scale, within which entities of one count are taken together, at their mean exposure. */
const STEP = 0.01;

/**
 * Counts as they are, or, from 2,000 entities on, those of equal count and exposures within 1 % together at their mean exposure: the
 * log-likelihood then moves by the square of the differences, below 1e-5 of itself, and a fit takes hundredths of the time.
 */
export function gatheredCounts(counts: Counts): WeightedCounts {
  const { events, exposure } = counts;
  if (events.length < MANY) return { ...counts, weight: new Float64Array(events.length).fill(1) };
  const rows = new Map<number, number>();
  const [number, sum, weight]: [number[], number[], number[]] = [[], [], []];
  for (let entity = 0; entity < events.length; entity++) {
    const key = events[entity]! * KEYS + Math.round(Math.log(exposure[entity]!) / STEP) + KEYS / 2;
    let row = rows.get(key);
    if (row === undefined) {
      row = number.length;
      rows.set(key, row);
      number.push(events[entity]!);
      sum.push(0);
      weight.push(0);
    }
    sum[row]! += exposure[entity]!;
    weight[row]!++;
  }
  const mean = Float64Array.from(sum, (total, row) => total / weight[row]!);
  return { events: Float64Array.from(number), exposure: mean, weight: Float64Array.from(weight) };
}

/** More than there are steps between the smallest number and the largest. */
const KEYS = 2 ** 18;
