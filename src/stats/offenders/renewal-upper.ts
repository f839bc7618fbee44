import { logNormalTail } from "../distribution/normal-tail.ts";
import { weibullMean } from "../weibull/mean.ts";
import { addWindow, type CountChances, noWindow } from "./count-sum.ts";
import { checkStretches, type Stretches } from "./expected-events.ts";
import { renewalCounts, type UpperChances } from "./renewal-counts.ts";
import type { RenewalClock } from "./renewal-law.ts";
import { renewalWindows, type Window } from "./renewal-windows.ts";

/**
 * Chance of an entity's count of events, or a larger one, on the fleet's renewal clock: gaps are Weibull, each event starts the clock anew,
 * a window that came under observation at an age goes on from there. Exact but for the steps of its integrals (to 1 % of the chance
 * and better); from 200 events on, seen or to expect, the count is taken for normal with the renewal process's mean and variance.
 * @param stretches - of all entities; those of one entity in the order in which they ran
 * @param entities - how many there are
 * @param law - gaps, as `fitRenewalLaw` finds them
 * @param options - `rateRatio`: hazard of ordinary entities over the fleet's, as the ordinary mean of `fitTwoGroups`, 1 where not given;
 * `midP`: the count itself counts by half, false where not given
 * @returns a probability per entity; for `benjaminiHochberg`
 * @throws RangeError for columns that are not stretches, an unknown stratum or a ratio that is not above 0
 * @see D. R. Cox, Renewal Theory, 1962, ch. 3 and 4
 * @example
 * const [entity, entry] = [Int32Array.of(0, 0, 1, 1), new Float64Array(4)];
 * const stretches = { entity, entry, stop: Float64Array.of(90, 110, 100, 40), event: Uint8Array.of(1, 1, 1, 0) };
 * const law = fitRenewalLaw(stretches, { level: 0.95 });
 * if (law.renewal) renewalUpperP(stretches, 2, law);
 */
export function renewalUpperP(
  stretches: Stretches,
  entities: number,
  law: Pick<RenewalClock, "shape" | "scale">,
  { rateRatio = 1, midP = false }: { rateRatio?: number; midP?: boolean } = {},
): Float64Array {
  checkStretches(stretches, entities);
  if (!(rateRatio > 0)) throw new RangeError(`Cannot take chances of counts: the ratio is ${rateRatio}, not above 0`);
  const { windows, events } = renewalWindows(stretches, entities);
  const shrink = rateRatio ** (1 / law.shape);
  const scaled = windows.map((window) => inScales(window, law.scale, shrink));
  const chances = new Float64Array(entities).fill(1);
  if (midP) for (let entity = 0; entity < entities; entity++) chances[entity] = 0.5;
  const counts = renewalCounts(law.shape);
  for (const own of windowsByEntity(scaled)) {
    const { entity } = own[0]!;
    const expected = own.reduce((sum, { length }) => sum + length, 0) / weibullMean(law.shape, 1);
    const isLong = Math.max(events[entity]!, expected) > MOST_EXACT || own.length > MOST_WINDOWS;
    chances[entity] = isLong
      ? normalUpper(law.shape, own, events[entity]!, midP)
      : exactUpper(counts, own, events[entity]!, midP);
  }
  return chances;
}

/** From so many events on, or windows, the count is taken for normal. */
const MOST_EXACT = 200;
const MOST_WINDOWS = 2000;

function inScales(window: Window, scale: Float64Array, shrink: number): Window {
  const unit = scale[window.stratum];
  if (unit === undefined) {
    throw new RangeError(`Cannot take chances of counts: stratum ${window.stratum} has no law of its gaps`);
  }
  return { ...window, age: (window.age / unit) * shrink, length: (window.length / unit) * shrink };
}

function* windowsByEntity(windows: Window[]): Generator<Window[]> {
  for (let from = 0, to = 0; from < windows.length; from = to) {
    while (to < windows.length && windows[to]!.entity === windows[from]!.entity) to++;
    yield windows.slice(from, to);
  }
}

function exactUpper(counts: UpperChances, windows: Window[], events: number, midP: boolean): number {
  let sum: CountChances = noWindow(events);
  for (const { age, length } of windows) sum = addWindow(sum, counts(age, length, events + 1));
  return sum.upper[events]! - (midP ? sum.exactly[events]! / 2 : 0);
}

/** Cox's asymptotes of mean and variance for each window, the first gap taken for as long as any. */
function normalUpper(shape: number, windows: Window[], events: number, midP: boolean): number {
  const mean = weibullMean(shape, 1);
  const squared = weibullMean(shape / 2, 1) / mean ** 2 - 1;
  let [expected, variance] = [0, 0];
  for (const { age, length } of windows) {
    expected += length / mean + (age > 0 ? 0 : Math.max((squared - 1) / 2, -length / mean));
    variance += squared * (length / mean);
  }
  const from = midP ? events : events - 0.5;
  return Math.exp(logNormalTail((expected - from) / Math.sqrt(Math.max(variance, Number.MIN_VALUE))));
}
