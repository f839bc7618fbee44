import { familyOf } from "../distribution/families.ts";
import type { FamilyName } from "../distribution/family.ts";
import { fitSurface } from "../fit/fit.ts";
import { surfaceOf } from "../fit/surface-of.ts";
import { type Stream, streamOf } from "../random/stream.ts";
import { type EdfDistances, edfDistances } from "./edf-distances.ts";
import { fittedSample } from "./fitted-sample.ts";
import type { SinglyCensored } from "./singly-censored.ts";

/** How lives were watched: to failure all, up to an age by which a fraction `until` fails, or up to the failure numbered `failures`. */
export type Watching = { size: number } & ({ all: true } | { until: number } | { failures: number });

/** A distribution to draw from: its scale does not matter, its shape only to the gamma. */
export type DrawnDistribution = { distribution: FamilyName; shape: number };

/** How often to draw, 1 or more, and the seed, any whole number. */
export type Draws = { draws: number; seed: number };

/** Sets that allow no fit are drawn anew, so many times in a row. */
const MOST_REDRAWS = 200;

/**
 * Distances between lives drawn from a distribution, watched in one way, and the same kind of distribution fitted to them.
 * @returns a distance for each draw, and how many sets were drawn anew because they allowed no fit; null where nearly none does
 * @see D'Agostino and Stephens, Goodness-of-Fit Techniques, 1986, ch. 4
 * @example drawnDistances({ size: 23, all: true }, { distribution: "weibull", shape: 2 }, { draws: 999, seed: 1 });
 */
export function drawnDistances(
  watching: Watching,
  drawn: DrawnDistribution,
  { draws, seed }: Draws,
): { distances: EdfDistances[]; redrawn: number } | null {
  const lifeAt = lifeBy(drawn);
  const distances: EdfDistances[] = [];
  let redrawn = 0;
  for (let draw = 0; draw < draws; draw++) {
    const stream = streamOf(seed, draw);
    let found: EdfDistances | null = null;
    for (let again = 0; found === null; again++) {
      if (again === MOST_REDRAWS) return null;
      if (again > 0) redrawn++;
      found = distanceOf(sampleFrom(watching, lifeAt, stream), drawn.distribution);
    }
    distances.push(found);
  }
  return { distances, redrawn };
}

/**
 * Age by which a fraction fails, at scale 1. All but the gamma are drawn at shape 1: another shape stretches log age, for the fit as for
 * the lives, and leaves the distances as they are.
 */
function lifeBy({ distribution, shape }: DrawnDistribution): (fraction: number) => number {
  const family = familyOf(distribution);
  const e = distribution === "gamma" ? Math.log(shape) : 0;
  return (fraction) => Math.exp(family.quantile(Math.min(Math.max(fraction, LEAST), 1 - LEAST), e).value);
}

/** Draws of exactly 0 or 1 would be no age. */
const LEAST = 2 ** -53;

/**
 * Failures in the order in which they come: the gap to the next in cumulative hazard is exponential, its mean one over the lives left. So a set
 * costs as much as it has failures, however many lives run on.
 */
function sampleFrom(watching: Watching, lifeAt: (fraction: number) => number, stream: Stream): SinglyCensored {
  const { size } = watching;
  const most = "failures" in watching ? watching.failures : size;
  const until = "until" in watching ? -Math.log1p(-watching.until) : Number.POSITIVE_INFINITY;
  const ages: number[] = [];
  let hazard = 0;
  while (ages.length < most) {
    hazard -= Math.log1p(-stream.uniform()) / (size - ages.length);
    if (hazard > until) break;
    ages.push(lifeAt(-Math.expm1(-hazard)));
  }
  const failures = ages.length;
  const end = "until" in watching ? lifeAt(watching.until) : failures === size ? null : ages[failures - 1]!;
  return { age: Float64Array.from(ages), count: new Float64Array(failures).fill(1), size, failures, end };
}

function distanceOf(sample: SinglyCensored, distribution: FamilyName): EdfDistances | null {
  const { age, size, failures, end } = sample;
  const unfailed = size - failures;
  const rows = age.length + (unfailed > 0 ? 1 : 0);
  const time = new Float64Array(rows);
  time.set(age);
  const failed = new Uint8Array(rows).fill(1);
  const count = new Float64Array(rows).fill(1);
  if (unfailed > 0) {
    time[rows - 1] = end ?? 0;
    failed[rows - 1] = 0;
    count[rows - 1] = unfailed;
  }
  const surface = surfaceOf({ time, failed, count }, distribution);
  if ("refused" in surface) return null;
  const fit = fitSurface(surface);
  return fit.converged ? edfDistances(fittedSample(sample, fit)) : null;
}
